//! A journal is written completely or not at all: two writers, a full disk, read-only files and folders, links.

use std::fs::{self, File, Permissions};
use std::os::unix::fs::{PermissionsExt as _, symlink};
use std::process::Command;
use std::thread::sleep;
use std::time::Duration;

use super::{JOURNAL, journal, one_roll, refused, two_rolls, with_journal};
use crate::bad_input::reading::as_one_who_may_not;
use crate::writers::{call, names, recording, small};

#[test]
fn many_writers_at_once_lose_no_session() {
    let run = small();
    let mut children: Vec<_> = (0..12).map(|_| recording(run.folder()).spawn().unwrap()).collect();
    for child in &mut children {
        assert!(child.wait().unwrap().success());
    }
    let text = journal(&run);
    for number in 2..=12 {
        assert_eq!(text.matches(&format!("session evening-2026-11-12-{number} {{\n")).count(), 1, "{text}");
    }
    assert_eq!(text.matches("\nsession ").count(), 1 + 12);
    assert_eq!(names(run.folder()), ["journal.wet", "plain.wet"]);
    run.again().args(["check"]).succeeds();
}

/// The same for a journal that neither of them finds.
#[test]
fn two_writers_that_create_a_journal_lose_no_session() {
    for _ in 0..10 {
        let run = small();
        fs::remove_file(run.folder().join("journal.wet")).unwrap();
        let mut children: Vec<_> = (0..3).map(|_| recording(run.folder()).spawn().unwrap()).collect();
        for child in &mut children {
            assert!(child.wait().unwrap().success());
        }
        assert_eq!(journal(&run).matches("\nsession ").count(), 3);
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
    let mut sessions = journal(&run).matches("\nsession ").count();
    for args in [["tidy", "."], ["check", "--mend"]].iter().cycle().take(20) {
        fs::write(&path, journal(&run).replacen("21.5 C", "21.5 °C", 1)).unwrap();
        let calls = [recording(run.folder()), call(run.folder(), args), recording(run.folder())];
        let mut children = calls.map(|mut call| call.spawn().unwrap());
        let [one, _, two] = children.each_mut().map(|child| child.wait().unwrap().success());
        assert!(one && two);
        sessions += 2;
        assert_eq!(journal(&run).matches("\nsession ").count(), sessions, "beside {args:?}");
    }
}

/// A file size limit of one block simulates a full disk.
#[test]
fn a_disk_that_fills_up_half_way_leaves_the_old_journal_whole() {
    let filled = format!("{JOURNAL}{}", "# and on, and on, and on\n".repeat(100));
    let run = with_journal(&filled);
    let mut call = Command::new("/bin/sh");
    call.args(["-c", "trap '' XFSZ; ulimit -f 1; exec \"$@\"", "sh", env!("CARGO_BIN_EXE_wetside")]);
    call.args(["record", "estuary-400-mq", "--at", "21.5C", "--rolls", "1x120", "--tank", "tall-five"]);
    let output = call.args(["--date", "2026-11-12"]).current_dir(run.folder()).output().unwrap();
    let stderr = String::from_utf8(output.stderr).unwrap();
    assert_eq!((output.status.code(), &*output.stdout), (Some(2), &b""[..]), "{stderr}");
    assert!(stderr.contains("journal.wet could not be written"), "{stderr}");
    assert_eq!(journal(&run), filled);
    assert_eq!(names(run.folder()), ["darkroom.wet", "journal.wet", "recipes"]);
}

#[test]
fn a_read_only_journal_is_unchanged() {
    let run = one_roll(with_journal(JOURNAL), "2026-11-12");
    let path = run.folder().join("journal.wet");
    fs::set_permissions(&path, Permissions::from_mode(0o444)).unwrap();
    refused(&run, 2, &["journal.wet could not be written", "read-only", "nothing was changed"]);
    assert_eq!(names(run.folder()), ["darkroom.wet", "journal.wet", "recipes"]);
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

#[test]
fn a_journal_keeps_its_mode_and_a_link_to_it_stays_a_link() {
    let run = with_journal("")
        .file("deeper/winter.wet", JOURNAL.replace("\"dark", "\"../dark"))
        .file(".git/HEAD", "");
    let (link, real) = (run.folder().join("journal.wet"), run.folder().join("deeper/winter.wet"));
    fs::remove_file(&link).unwrap();
    symlink("deeper/winter.wet", &link).unwrap();
    fs::set_permissions(&real, Permissions::from_mode(0o640)).unwrap();
    let run = two_rolls(run).args(["--journal", "journal.wet"]);
    run.succeeds();
    assert!(fs::symlink_metadata(&link).unwrap().is_symlink());
    assert!(fs::read_to_string(&real).unwrap().contains("\nsession evening-2026-11-12 {\n"));
    assert_eq!(fs::metadata(&real).unwrap().permissions().mode() & 0o777, 0o640);
    fs::remove_file(&real).unwrap();
    let run = one_roll(run.again(), "2026-11-12").args(["--journal", "journal.wet"]);
    refused(&run, 2, &["is a link that leads to no file"]);
}

#[test]
fn a_file_that_cannot_be_a_journal_is_refused() {
    for (path, words) in [
        ("/dev/full", "it is not a plain file"),
        ("recipes", "it is a folder"),
        ("notes.txt", "notes.txt does not end in .wet"),
        ("nowhere/journal.wet", "is in a folder that does not exist"),
    ] {
        let run = one_roll(with_journal(JOURNAL), "2026-11-12").args(["--journal", path]);
        refused(&run, 2, &[words]);
    }
}
