//! However a call is killed while it writes, the old file or the new one is there, whole. What it leaves beside that
//! is a hidden file.

use std::fs;
use std::process::{Child, Stdio};
use std::thread::sleep;
use std::time::Instant;

use super::{SOUND, beside_a_sound_one, card, command, names};
use crate::program::Run;

/// So often a call is killed.
const KILLS: u32 = 120;

/// It is hidden and does not end in `.wet`, so nothing reads it, and nobody who writes meanwhile loses a file.
#[test]
fn what_a_killed_call_left_is_read_by_no_call_and_in_nobodys_way() {
    let run = beside_a_sound_one().file(".wetside-abc123", "wetside 1\n\nfilm pl").args(["check"]);
    assert_eq!(run.succeeds(), "nothing to fix in 1 file\n");
    let run = card(run.again(), "a.wet").args(["-o", "tonight.txt"]);
    run.succeeds();
    assert_eq!(names(run.folder()), [".wetside-abc123", "a.wet", "tonight.txt"]);
}

/// A name may be so long that nothing more fits before and behind it.
#[test]
fn a_file_of_the_longest_name_is_written() {
    let name = format!("{}.txt", "n".repeat(251));
    let run = card(beside_a_sound_one(), "a.wet").args(["-o", &name]);
    run.succeeds();
    assert_eq!(names(run.folder()), ["a.wet", &name]);
}

fn tidying(run: &Run) -> Child {
    let mut call = command(run.folder());
    call.args(["tidy", "a.wet"]).stdin(Stdio::null()).stdout(Stdio::null()).stderr(Stdio::null());
    call.spawn().unwrap()
}

/// Kills `tidy a.wet` again and again, from before the first byte to past the end. After each kill the rough text and
/// the tidy one are given, and the place is looked at.
fn swept(run: &Run, look: impl Fn(u32, &str, &str)) {
    let began = Instant::now();
    assert!(tidying(run).wait().unwrap().success());
    let usual = began.elapsed();
    let path = run.folder().join("a.wet");
    let tidy = fs::read_to_string(&path).unwrap();
    assert_ne!(tidy, SOUND);
    for kill in 0..KILLS {
        fs::write(&path, SOUND).unwrap();
        let mut child = tidying(run);
        sleep(usual * (kill * 7919 % KILLS) * 3 / (KILLS * 2));
        // It may have ended by itself.
        let _ = child.kill();
        child.wait().unwrap();
        look(kill, SOUND, &tidy);
    }
    fs::write(&path, SOUND).unwrap();
    assert!(tidying(run).wait().unwrap().success());
    assert_eq!(fs::read_to_string(&path).unwrap(), tidy);
}

#[test]
fn however_tidy_is_killed_the_file_is_whole_and_what_is_left_is_hidden() {
    let run = beside_a_sound_one();
    swept(&run, |kill, rough, tidy| {
        let now = fs::read_to_string(run.folder().join("a.wet")).unwrap();
        assert!(now == rough || now == tidy, "after kill {kill}: {now}");
        let mut others = names(run.folder()).into_iter().filter(|name| name != "a.wet");
        assert!(
            others.all(|name| name.starts_with(".wetside-") && !name.ends_with(".wet")),
            "after kill {kill}"
        );
    });
}

/// A file with two names is written in its place, which takes two steps. A copy of the old text is there meanwhile.
#[test]
fn however_tidy_is_killed_the_old_text_of_a_file_with_two_names_is_there() {
    let run = beside_a_sound_one();
    fs::hard_link(run.folder().join("a.wet"), run.folder().join("b.wet")).unwrap();
    swept(&run, |kill, rough, tidy| {
        let read = |name: &str| fs::read_to_string(run.folder().join(name)).unwrap();
        let now = read("a.wet");
        assert_eq!(now, read("b.wet"));
        let copied =
            || names(run.folder()).iter().any(|name| name.starts_with(".wetside-") && read(name) == rough);
        assert!(now == rough || now == tidy || copied(), "after kill {kill}: {now}");
    });
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
    assert_eq!(names(run.folder()), ["a.wet", "tonight.txt"]);
    assert!(fs::read_to_string(run.folder().join("tonight.txt")).unwrap().contains("A plain one"));
}
