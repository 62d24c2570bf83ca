//! A lock file replaces the lock of a folder that cannot be opened. Here the folder is writable but not readable.

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

/// A darkroom in `inner/`, whose root above cannot be opened while this value lives.
struct ClosedRoot {
    run: Run,
    call: Command,
}

impl ClosedRoot {
    /// `None`, with a message, if permissions do not bind this user.
    fn new() -> Option<ClosedRoot> {
        let run = small_below("inner/").file(".git/HEAD", "");
        let root = run.folder();
        let mut call = as_one_who_may_not(root)?;
        let inner = root.join("inner");
        call.args(["record", "plain.wet", "--at", "21.5C", "--rolls", "1x120", "--date", "2026-11-12"]);
        call.args(["--journal", "journal.wet"]).current_dir(&inner).stdin(Stdio::null());
        call.stdout(Stdio::null()).stderr(Stdio::piped());
        fs::set_permissions(&inner, Permissions::from_mode(0o777)).unwrap();
        fs::set_permissions(inner.join("journal.wet"), Permissions::from_mode(0o666)).unwrap();
        fs::set_permissions(root, Permissions::from_mode(0o333)).unwrap();
        Some(ClosedRoot { run, call })
    }

    fn root(&self) -> &Path {
        self.run.folder()
    }

    fn writer(&mut self) -> Child {
        self.call.spawn().unwrap()
    }

    fn sessions(&self) -> usize {
        fs::read_dir(self.root().join("inner/journal")).map_or(0, Iterator::count)
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

impl Drop for ClosedRoot {
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
fn many_writers_lose_no_session_if_the_folder_cannot_be_locked() {
    let Some(mut inner) = ClosedRoot::new() else { return };
    let writers: Vec<Child> = (0..8).map(|_| inner.writer()).collect();
    for writer in writers {
        assert_eq!(said(writer, 0), "");
    }
    assert!(inner.root().join(BESIDE).exists(), "it was not the file that was locked");
    assert_eq!(inner.sessions(), 8);
}

#[test]
fn a_second_writer_waits_if_the_folder_cannot_be_locked() {
    let Some(mut inner) = ClosedRoot::new() else { return };
    let held = inner.taken();
    let mut writer = inner.writer();
    sleep(Duration::from_millis(500));
    assert!(writer.try_wait().unwrap().is_none(), "it did not wait");
    assert_eq!(inner.sessions(), 0);
    held.unlock().unwrap();
    assert_eq!(said(writer, 0), "");
    assert_eq!(inner.sessions(), 1);
}

#[test]
fn waiting_too_long_is_an_error_if_the_folder_cannot_be_locked() {
    let Some(mut inner) = ClosedRoot::new() else { return };
    let _held = inner.taken();
    let writer = inner.writer();
    assert!(said(writer, 2).contains("another call of wetside has held"));
    assert_eq!(inner.sessions(), 0);
}
