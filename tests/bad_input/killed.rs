//! Leftover files of a killed call, the longest file name, and many calls that write to one place.

use std::fs;
use std::process::Stdio;

use super::{beside_a_sound_one, card, command, names};

/// It is hidden and does not end in `.wet`, so no call reads it, and another writer does not lose a file.
#[test]
fn a_file_left_by_a_killed_call_is_not_read_and_blocks_no_call() {
    let run = beside_a_sound_one().file(".wetside-abc123", "wetside 1\n\nfilm pl").args(["check"]);
    assert_eq!(run.succeeds(), "nothing to fix in 1 file\n");
    let run = card(run.again(), "a.wet").args(["-o", "tonight.txt"]);
    run.succeeds();
    assert_eq!(names(run.folder()), [".tonight", ".wetside-abc123", "a.wet", "tonight.txt"]);
}

/// A name may be so long that no prefix or suffix fits.
#[test]
fn a_file_of_the_longest_name_is_written() {
    let name = format!("{}.txt", "n".repeat(251));
    let run = card(beside_a_sound_one(), "a.wet").args(["-o", &name]);
    run.succeeds();
    assert_eq!(names(run.folder()), [".tonight", "a.wet", &name]);
}

/// The last one wins, and each finds a place to write in.
#[test]
fn many_calls_that_write_to_one_place_at_once_all_do() {
    let run = beside_a_sound_one();
    let call = || {
        let mut call = command(run.folder());
        call.args(["card", "a.wet", "--at", "20C", "--rolls", "1x120", "-o", "tonight.txt"]);
        call.stdin(Stdio::null()).stdout(Stdio::null()).stderr(Stdio::null()).spawn().unwrap()
    };
    let mut children: Vec<_> = (0..16).map(|_| call()).collect();
    for child in &mut children {
        assert!(child.wait().unwrap().success());
    }
    assert_eq!(names(run.folder()), [".tonight", "a.wet", "tonight.txt"]);
    assert!(fs::read_to_string(run.folder().join("tonight.txt")).unwrap().contains("A plain one"));
}
