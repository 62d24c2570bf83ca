//! A session is written completely or not at all: two writers, a full disk, read-only files and folders, links.

use std::fs::{self, File, Permissions};
use std::os::unix::fs::{PermissionsExt as _, symlink};
use std::process::Command;
use std::thread::sleep;
use std::time::Duration;

use tempfile::TempDir;

use super::{JOURNAL, added, darkroom, journal, one_roll, refused, two_rolls, with_journal};
use crate::program::Run;
use crate::unprivileged::as_one_who_may_not;
use crate::writers::{call, names, recording, small};

/// The number of sessions that were recorded, each in a file that is whole.
fn sessions(run: &Run) -> usize {
    let files: Vec<_> = journal(run).into_iter().filter(|(name, _)| name != "journal.wet").collect();
    for (name, text) in &files {
        let text = String::from_utf8(text.clone()).unwrap();
        assert!(text.starts_with("wetside 2\n") && text.ends_with("\n}\n"), "{name}: {text}");
    }
    files.len()
}

#[test]
fn many_writers_at_once_lose_no_session() {
    let run = small();
    let before = journal(&run);
    let mut children: Vec<_> = (0..12).map(|_| recording(run.folder()).spawn().unwrap()).collect();
    for child in &mut children {
        assert!(child.wait().unwrap().success());
    }
    assert_eq!(sessions(&run), 12);
    assert_eq!(journal(&run)["journal.wet"], before["journal.wet"]);
    assert_eq!(names(run.folder()), ["journal", "journal.wet", "plain.wet"]);
    run.again().args(["check"]).succeeds();
}

/// The same for a folder that none of them finds.
#[test]
fn writers_that_create_a_journal_lose_no_session() {
    for _ in 0..10 {
        let run = small();
        fs::remove_file(run.folder().join("journal.wet")).unwrap();
        let mut children: Vec<_> = (0..3).map(|_| recording(run.folder()).spawn().unwrap()).collect();
        for child in &mut children {
            assert!(child.wait().unwrap().success());
        }
        assert_eq!(sessions(&run), 3);
    }
}

/// A call waits for the lock of the darkroom and writes nothing until then.
#[test]
fn a_second_writer_waits_for_the_first() {
    let run = small();
    let before = journal(&run);
    let held = File::open(run.folder()).unwrap();
    held.lock().unwrap();
    let mut child = recording(run.folder()).spawn().unwrap();
    sleep(Duration::from_millis(500));
    assert!(child.try_wait().unwrap().is_none(), "it did not wait");
    assert_eq!(journal(&run), before);
    held.unlock().unwrap();
    assert!(child.wait().unwrap().success());
    assert_ne!(journal(&run), before);
}

/// Rough and misspelled, so that both have something to write.
#[test]
fn tidy_and_mend_wait_for_the_lock_too() {
    for args in [&["tidy", "rough.wet"][..], &["check", "--mend", "rough.wet"]] {
        let rough = "wetside 1\nfilm ebb {\nspeeed   ISO 100\n}\n";
        let run = small().file("rough.wet", rough);
        let path = run.folder().join("rough.wet");
        let held = File::open(run.folder()).unwrap();
        held.lock().unwrap();
        let mut child = call(run.folder(), args).spawn().unwrap();
        sleep(Duration::from_millis(500));
        assert!(child.try_wait().unwrap().is_none(), "{args:?} did not wait");
        assert_eq!(fs::read_to_string(&path).unwrap(), rough);
        held.unlock().unwrap();
        assert!(child.wait().unwrap().success());
        assert_ne!(fs::read_to_string(&path).unwrap(), rough);
    }
}

/// In each round one degree is spelled otherwise than the rest, which is both untidy and mended.
#[test]
fn no_session_is_lost_to_a_tidy_or_mend_at_the_same_time() {
    let run = small();
    assert!(recording(run.folder()).status().unwrap().success());
    let path = run.folder().join("journal.wet");
    let mut count = 1;
    for args in [["tidy", "."], ["check", "--mend"]].iter().cycle().take(20) {
        fs::write(&path, JOURNAL.replacen("  date", "  at 21.5 °C\n  date", 1).replacen("use", "#", 1))
            .unwrap();
        let calls = [recording(run.folder()), call(run.folder(), args), recording(run.folder())];
        let mut children = calls.map(|mut call| call.spawn().unwrap());
        let [one, _, two] = children.each_mut().map(|child| child.wait().unwrap().success());
        assert!(one && two);
        count += 2;
        assert_eq!(sessions(&run), count, "beside {args:?}");
    }
}

/// A file size limit of one block, 512 bytes in a POSIX shell, simulates a full disk.
#[test]
fn a_disk_that_fills_up_half_way_leaves_no_part_of_a_file() {
    let run = with_journal(JOURNAL);
    let before = journal(&run);
    let mut call = Command::new("/bin/sh");
    call.args(["-c", "trap '' XFSZ; ulimit -f 1; exec \"$@\"", "sh", env!("CARGO_BIN_EXE_wetside")]);
    call.args(["record", "estuary-400-mq", "--at", "21.5C", "--rolls", "1x120", "--tank", "tall-five"]);
    call.args(["--date", "2026-11-12", "--note", &"x".repeat(1500)]);
    let output = call.current_dir(run.folder()).output().unwrap();
    let stderr = String::from_utf8(output.stderr).unwrap();
    assert_eq!((output.status.code(), &*output.stdout), (Some(2), &b""[..]), "{stderr}");
    assert!(stderr.contains("could not be written"), "{stderr}");
    assert_eq!(journal(&run), before);
    assert_eq!(names(run.folder()), ["darkroom.wet", "journal.wet", "recipes"]);
}

#[test]
fn an_older_journal_may_be_read_only() {
    let run = one_roll(with_journal(JOURNAL), "2026-11-12");
    fs::set_permissions(run.folder().join("journal.wet"), Permissions::from_mode(0o444)).unwrap();
    added(&run);
}

#[test]
fn a_folder_without_write_permission_is_an_error() {
    let run = small();
    let folder = run.folder();
    let Some(mut call) = as_one_who_may_not(folder) else { return };
    let before = (journal(&run), names(folder));
    fs::set_permissions(folder, Permissions::from_mode(0o555)).unwrap();
    call.args(["record", "estuary-400-mq", "--at", "21.5C", "--rolls", "1x120", "--date", "2026-11-12"]);
    let output = call.output().unwrap();
    fs::set_permissions(folder, Permissions::from_mode(0o755)).unwrap();
    let stderr = String::from_utf8(output.stderr).unwrap();
    assert_eq!((output.status.code(), &*output.stdout), (Some(2), &b""[..]), "{stderr}");
    assert!(stderr.contains("could not be written"), "{stderr}");
    assert_eq!((journal(&run), names(folder)), before);
}

/// A journal may be a link to another file or folder of its root.
#[test]
fn a_link_to_a_journal_is_followed_below_its_root() {
    let older = JOURNAL.replace("\"dark", "\"../dark");
    let run = darkroom().file("deeper/winter.wet", older).file(".git/HEAD", "");
    symlink("deeper/winter.wet", run.folder().join("journal.wet")).unwrap();
    let run = two_rolls(run).args(["--journal", "journal.wet"]);
    added(&run);
    assert!(fs::symlink_metadata(run.folder().join("journal.wet")).unwrap().is_symlink());
    fs::remove_file(run.folder().join("deeper/winter.wet")).unwrap();
    let run = one_roll(run.again(), "2026-11-12").args(["--journal", "journal.wet"]);
    refused(&run, 2, &["is a link that leads to no file"]);
    let outside = TempDir::new().unwrap();
    let run = one_roll(darkroom(), "2026-11-12");
    symlink(outside.path(), run.folder().join("journal")).unwrap();
    refused(&run.args(["--journal", "journal"]), 2, &["is a link that leads out of its darkroom"]);
    assert_eq!(names(outside.path()).len(), 0);
}

#[test]
fn a_path_that_cannot_be_a_journal_is_refused() {
    for (path, words) in [
        ("/dev/full", "is neither a folder nor a .wet file"),
        ("notes.txt", "notes.txt is neither a folder nor a .wet file"),
        ("nowhere/journal.wet", "is in a folder that does not exist"),
    ] {
        let run = one_roll(with_journal(JOURNAL), "2026-11-12").args(["--journal", path]);
        refused(&run, 2, &[words]);
    }
}
