//! Outputs that cannot be written: status 2, the old file is whole, and no other file is left.

use std::fs::{self, File, Permissions};
use std::io::Read as _;
use std::os::unix::fs::{PermissionsExt as _, symlink};
use std::process::{Command, Stdio};

use super::{EVENING, SOUND, beside_a_sound_one, card, civil, command, names, outcome, told};
use crate::program::Run;
use crate::unprivileged::as_one_who_may_not;

const OLD: &str = "what was there before\n";

fn full() -> Stdio {
    Stdio::from(File::options().write(true).open("/dev/full").unwrap())
}

#[test]
fn a_full_disk_on_standard_output_is_an_error() {
    let run = beside_a_sound_one();
    let calls = [&["card", "a.wet"][..], &["check"], &["--help"], &["--version"], &["card", "--help"]];
    for args in calls {
        let mut call = command(run.folder());
        call.args(args).args(EVENING.iter().filter(|_| args == ["card", "a.wet"])).stdout(full());
        let (status, _, stderr) = outcome(&mut call);
        civil(&stderr);
        assert!(status == 2 && stderr.contains("could not be written"), "{args:?}: {status}: {stderr}");
    }
}

/// A message cannot be written; the status still shows the error.
#[test]
fn a_full_disk_on_standard_error_changes_no_status() {
    let run = beside_a_sound_one().file("empty.wet", "");
    for (args, wanted) in [(["card", "empty.wet"], 1), (["card", "missing.wet"], 2), (["crad", "a.wet"], 2)] {
        let mut call = command(run.folder());
        let (status, stdout, _) = outcome(call.args(args).args(EVENING).stderr(full()));
        assert_eq!((status, &*stdout), (wanted, ""), "{args:?}");
    }
}

/// As with `| head -1`.
#[test]
fn a_pipe_closed_by_its_reader_is_no_error() {
    let run = beside_a_sound_one().file("empty.wet", "");
    let closed = || {
        let (reader, writer) = std::io::pipe().unwrap();
        drop(reader);
        writer
    };
    let calls = [
        (&["card", "a.wet"][..], 0),
        (&["check", "a.wet"], 0),
        (&["check", "empty.wet"], 1),
        (&["--help"], 0),
    ];
    for (args, wanted) in calls {
        let mut call = command(run.folder());
        call.args(args).args(EVENING.iter().filter(|_| args[0] == "card")).stdout(closed());
        let (status, _, stderr) = outcome(&mut call);
        assert_eq!((status, &*stderr), (wanted, ""), "{args:?}");
    }
    let mut call = command(run.folder());
    let (status, ..) = outcome(call.args(["card", "missing.wet"]).args(EVENING).stderr(closed()));
    assert_eq!(status, 2);
}

fn writes_to(run: Run, path: &str) -> Run {
    card(run, "a.wet").args(["-o", path])
}

#[test]
fn a_path_that_cannot_be_a_file_is_an_error_and_unchanged() {
    let run = beside_a_sound_one().file("folder.txt/inside", OLD);
    let run = writes_to(run, "missing/tonight.txt");
    told(&run, 2, &["missing/tonight.txt could not be written", "nothing was changed"]);
    let run = writes_to(run.again(), "folder.txt");
    told(&run, 2, &["folder.txt could not be written", "is not a file"]);
    let run = writes_to(run.again(), "a.wet/tonight.json");
    told(&run, 2, &["a.wet/tonight.json could not be written"]);
    let run = writes_to(run.again(), "/dev/full").args(["--as", "text"]);
    told(&run, 2, &["/dev/full could not be written", "is not a file"]);
    let run = writes_to(run.again(), "").args(["--as", "text"]);
    told(&run, 2, &["a value is required for '-o <FILE>'"]);
    assert_eq!(names(run.folder()), ["a.wet", "folder.txt"]);
    assert_eq!(names(&run.folder().join("folder.txt")), ["inside"]);
    assert_eq!(fs::read_to_string(run.folder().join("a.wet")).unwrap(), SOUND);
}

/// Without an ending there is none to be quoted.
#[test]
fn a_file_name_without_a_known_ending_is_an_error() {
    for name in ["tonight", ".json"] {
        let run = writes_to(beside_a_sound_one(), name);
        let said = told(
            &run,
            2,
            &["the file name has no ending", ".txt, .html, .json, .pdf, .svg, .csv, .ics, .wav"],
        );
        assert!(!said.contains("'.'"), "{name} has no ending '.': {said}");
        assert_eq!(names(run.folder()), ["a.wet"]);
    }
}

#[test]
fn a_folder_without_write_permission_is_an_error() {
    let run = beside_a_sound_one().file("locked/tonight.txt", OLD);
    let locked = run.folder().join("locked");
    let Some(mut call) = as_one_who_may_not(run.folder()) else { return };
    fs::set_permissions(&locked, Permissions::from_mode(0o555)).unwrap();
    let (status, stdout, stderr) =
        outcome(call.args(["card", "a.wet", "-o", "locked/tonight.txt"]).args(EVENING));
    fs::set_permissions(&locked, Permissions::from_mode(0o755)).unwrap();
    civil(&stderr);
    assert_eq!((status, &*stdout), (2, ""), "{stderr}");
    assert!(stderr.contains("locked/tonight.txt could not be written"), "{stderr}");
    assert_eq!(names(&locked), ["tonight.txt"]);
    assert_eq!(fs::read_to_string(locked.join("tonight.txt")).unwrap(), OLD);
}

/// A file size limit of one block simulates a full disk.
#[test]
fn a_disk_that_fills_up_half_way_leaves_the_old_file_whole() {
    let run = beside_a_sound_one().file("tonight.txt", OLD);
    let mut call = Command::new("/bin/sh");
    call.args(["-c", "trap '' XFSZ; ulimit -f 1; exec \"$@\"", "sh", env!("CARGO_BIN_EXE_wetside")]);
    call.args(["card", "a.wet", "-o", "tonight.txt"]).args(EVENING);
    call.current_dir(run.folder()).stdout(Stdio::piped()).stderr(Stdio::piped());
    let (status, stdout, stderr) = outcome(&mut call);
    civil(&stderr);
    assert_eq!((status, &*stdout), (2, ""), "{stderr}");
    assert!(stderr.contains("tonight.txt could not be written"), "{stderr}");
    assert_eq!(names(run.folder()), ["a.wet", "tonight.txt"]);
    assert_eq!(fs::read_to_string(run.folder().join("tonight.txt")).unwrap(), OLD);
}

#[test]
fn a_recipe_with_errors_or_an_invalid_call_leaves_the_old_file_whole() {
    let run = beside_a_sound_one().file("tonight.txt", OLD);
    let whole = |run: &Run| {
        assert_eq!(names(run.folder()), ["a.wet", "tonight.txt"]);
        assert_eq!(fs::read_to_string(run.folder().join("tonight.txt")).unwrap(), OLD);
    };
    let run = run.args(["card", "a.wet", "--at", "30C", "--rolls", "1x120", "-o", "tonight.txt"]);
    told(&run, 1, &["outside-band"]);
    whole(&run);
    let run = writes_to(run.again(), "tonight.txt").args(["--tank", "none-such"]);
    told(&run, 2, &[]);
    whole(&run);
}

/// A program that has the old file open still reads the old text: the file is replaced, not overwritten.
#[test]
fn a_file_is_replaced_whole_and_keeps_its_permissions() {
    for mode in [0o600, 0o640, 0o664] {
        let run = beside_a_sound_one().file("tonight.txt", OLD);
        let path = run.folder().join("tonight.txt");
        fs::set_permissions(&path, Permissions::from_mode(mode)).unwrap();
        let mut open = File::open(&path).unwrap();
        let run = writes_to(run, "tonight.txt");
        assert_eq!(run.succeeds(), "");
        let mut read = String::new();
        open.read_to_string(&mut read).unwrap();
        assert_eq!(read, OLD);
        let run = card(run.again(), "a.wet");
        assert_eq!(fs::read_to_string(&path).unwrap(), run.succeeds());
        assert_eq!(fs::metadata(&path).unwrap().permissions().mode() & 0o777, mode);
        assert_eq!(names(run.folder()), [".tonight", "a.wet", "tonight.txt"]);
    }
}

#[test]
fn a_link_is_written_through_and_stays_a_link() {
    let run = beside_a_sound_one().file("deeper/tonight.txt", OLD);
    let link = run.folder().join("link.txt");
    symlink("deeper/tonight.txt", &link).unwrap();
    let run = writes_to(run, "link.txt").args(["--replace"]);
    run.succeeds();
    assert!(fs::symlink_metadata(&link).unwrap().is_symlink());
    assert!(fs::read_to_string(run.folder().join("deeper/tonight.txt")).unwrap().contains("A plain one"));
    assert_eq!(names(run.folder()), [".tonight", "a.wet", "deeper", "link.txt"]);
    assert_eq!(names(&run.folder().join("deeper")), ["tonight.txt"]);
}

/// It goes on pointing to what it pointed to, whether or not that was there.
#[test]
fn a_link_to_a_missing_file_stays_a_link() {
    let run = beside_a_sound_one().file("deeper/other.txt", OLD);
    let link = run.folder().join("link.txt");
    symlink("deeper/tonight.txt", &link).unwrap();
    let run = writes_to(run, "link.txt").args(["--replace"]);
    run.succeeds();
    assert!(fs::symlink_metadata(&link).unwrap().is_symlink());
    assert!(fs::read_to_string(&link).unwrap().contains("A plain one"));
}
