//! The lock where a folder itself cannot be locked: a file in it stands for it. Here the folder is one that may be
//! written to and not looked into, which no program can open.

use std::fs::{self, File, Permissions};
use std::os::unix::fs::PermissionsExt as _;
use std::path::Path;
use std::process::{Child, Command, Stdio};
use std::thread::sleep;
use std::time::Duration;

use crate::bad_input::reading::as_one_who_may_not;
use crate::program::Run;
use crate::writers::small_below;

/// The file that is locked instead.
const BESIDE: &str = ".wetside-lock";

/// A darkroom in `room/`, whose root above cannot be opened as long as this lives.
struct Room {
    run: Run,
    call: Command,
}

impl Room {
    /// `None`, with a message, if permissions do not bind this user.
    fn new() -> Option<Room> {
        let run = small_below("room/").file(".git/HEAD", "");
        let root = run.folder();
        let mut call = as_one_who_may_not(root)?;
        let room = root.join("room");
        call.args(["record", "plain.wet", "--at", "21.5C", "--rolls", "1x120", "--date", "2026-11-12"]);
        call.args(["--journal", "journal.wet"]).current_dir(&room).stdin(Stdio::null());
        call.stdout(Stdio::null()).stderr(Stdio::piped());
        fs::set_permissions(&room, Permissions::from_mode(0o777)).unwrap();
        fs::set_permissions(room.join("journal.wet"), Permissions::from_mode(0o666)).unwrap();
        fs::set_permissions(root, Permissions::from_mode(0o333)).unwrap();
        Some(Room { run, call })
    }

    fn root(&self) -> &Path {
        self.run.folder()
    }

    fn writer(&mut self) -> Child {
        self.call.spawn().unwrap()
    }

    fn sessions(&self) -> usize {
        fs::read_to_string(self.root().join("room/journal.wet")).unwrap().matches("\nsession ").count()
    }

    /// Locks the file as another program would.
    fn taken(&self) -> File {
        let beside = self.root().join(BESIDE);
        let file = File::create_new(&beside).unwrap();
        fs::set_permissions(&beside, Permissions::from_mode(0o666)).unwrap();
        file.lock().unwrap();
        file
    }
}

impl Drop for Room {
    fn drop(&mut self) {
        // Else its owner could not clear the folder away. If this fails too, it stays in the system's own folder for such.
        let _ = fs::set_permissions(self.root(), Permissions::from_mode(0o755));
    }
}

#[track_caller]
fn said(child: Child, status: i32) -> String {
    let output = child.wait_with_output().unwrap();
    let stderr = String::from_utf8(output.stderr).unwrap();
    assert_eq!(output.status.code(), Some(status), "{stderr}");
    stderr.split_whitespace().collect::<Vec<_>>().join(" ")
}

#[test]
fn where_no_folder_can_be_locked_each_of_many_sessions_is_there_once() {
    let Some(mut room) = Room::new() else { return };
    let writers: Vec<Child> = (0..8).map(|_| room.writer()).collect();
    for writer in writers {
        assert_eq!(said(writer, 0), "");
    }
    assert!(room.root().join(BESIDE).exists(), "it was not the file that was locked");
    assert_eq!(room.sessions(), 1 + 8);
}

#[test]
fn where_no_folder_can_be_locked_a_second_writer_waits_for_the_first() {
    let Some(mut room) = Room::new() else { return };
    let held = room.taken();
    let mut writer = room.writer();
    sleep(Duration::from_millis(500));
    assert!(writer.try_wait().unwrap().is_none(), "it did not wait");
    assert_eq!(room.sessions(), 1);
    held.unlock().unwrap();
    assert_eq!(said(writer, 0), "");
    assert_eq!(room.sessions(), 2);
}

#[test]
fn if_no_folder_can_be_locked_a_call_that_waits_too_long_is_an_error() {
    let Some(mut room) = Room::new() else { return };
    let _held = room.taken();
    let writer = room.writer();
    assert!(said(writer, 2).contains("another call of wetside has held"));
    assert_eq!(room.sessions(), 1);
}
