//! What a call that was killed while it wrote leaves beside its file: the next one to write there takes it away,
//! and nothing that somebody works in, or that is no such file.

use std::fs::{self, File};
use std::os::unix::fs::symlink;
use std::process::Stdio;
use std::thread::sleep;
use std::time::Instant;

use super::{SOUND, beside_a_sound_one, card, command, names};
use crate::program::Run;

/// What stands beside a text of that name until it is whole.
const OF_THE_RECIPE: &str = ".wetside-a.wet.part";
const OF_THE_CARD: &str = ".wetside-tonight.txt.part";
/// So often a call is killed.
const KILLS: u32 = 120;

#[test]
fn what_a_killed_call_left_goes_and_nothing_else() {
    let run = beside_a_sound_one()
        .file(OF_THE_RECIPE, "wetside 1\n\nfilm pl")
        .file(OF_THE_CARD, "A plain")
        .file(".wetside-abc123", "mine")
        .file(".wetside-b.wet.part", "of another");
    let run = card(run, "a.wet").args(["-o", "tonight.txt"]);
    run.succeeds();
    let others = [".wetside-abc123", ".wetside-b.wet.part", "a.wet", "tonight.txt"];
    let there = |run: &Run| {
        let names = names(run.folder());
        let (left, rest): (Vec<_>, Vec<_>) = names.into_iter().partition(|name| name == OF_THE_RECIPE);
        assert_eq!(rest, others);
        left.len()
    };
    assert_eq!(there(&run), 1);
    let run = run.again().args(["tidy", "a.wet"]);
    run.succeeds();
    assert_eq!(there(&run), 0);
    let run = run.file("a.wet", SOUND.replace("10:00", "10 minutes")).file(OF_THE_RECIPE, "");
    let run = run.again().args(["check", "--mend", "a.wet"]);
    run.succeeds();
    assert_eq!(there(&run), 0);
}

/// As long as a call works in it, the file is held; the other writes all the same.
#[test]
fn what_another_call_works_in_is_let_be() {
    let run = beside_a_sound_one().file(OF_THE_CARD, "A plain");
    let held = File::open(run.folder().join(OF_THE_CARD)).unwrap();
    held.lock().unwrap();
    let run = card(run, "a.wet").args(["-o", "tonight.txt"]);
    run.succeeds();
    assert_eq!(names(run.folder()), [OF_THE_CARD, "a.wet", "tonight.txt"]);
    held.unlock().unwrap();
    run.succeeds();
    assert_eq!(names(run.folder()), ["a.wet", "tonight.txt"]);
}

#[test]
fn what_is_called_so_and_no_plain_file_is_let_be() {
    let run = beside_a_sound_one().file("elsewhere", "mine");
    let way = run.folder().join(OF_THE_CARD);
    symlink("elsewhere", &way).unwrap();
    let run = card(run, "a.wet").args(["-o", "tonight.txt"]);
    run.succeeds();
    assert!(way.is_symlink());
    assert_eq!(fs::read_to_string(run.folder().join("elsewhere")).unwrap(), "mine");
    fs::remove_file(&way).unwrap();
    fs::create_dir(&way).unwrap();
    run.succeeds();
    assert_eq!(names(run.folder()), [OF_THE_CARD, "a.wet", "elsewhere", "tonight.txt"]);
    assert!(way.is_dir());
}

/// A name may be so long that nothing more fits before and behind it.
#[test]
fn a_file_of_the_longest_name_is_written() {
    let name = format!("{}.txt", "n".repeat(251));
    let run = card(beside_a_sound_one(), "a.wet").args(["-o", &name]);
    run.succeeds();
    assert_eq!(names(run.folder()), ["a.wet", &name]);
}

/// The sweep goes from before the first byte to past the end; the text is the rough one or the tidy one, whole.
#[test]
fn however_tidy_is_killed_the_file_is_whole_and_one_call_later_nothing_else_is_there() {
    let call = |run: &Run| {
        let mut call = command(run.folder());
        call.args(["tidy", "a.wet"]).stdin(Stdio::null()).stdout(Stdio::null()).stderr(Stdio::null());
        call
    };
    let run = beside_a_sound_one();
    let began = Instant::now();
    assert!(call(&run).status().unwrap().success());
    let usual = began.elapsed();
    let path = run.folder().join("a.wet");
    let tidy = fs::read_to_string(&path).unwrap();
    assert_ne!(tidy, SOUND);
    for kill in 0..KILLS {
        fs::write(&path, SOUND).unwrap();
        let mut child = call(&run).spawn().unwrap();
        sleep(usual * (kill * 7919 % KILLS) * 3 / (KILLS * 2));
        // It may have ended by itself.
        let _ = child.kill();
        child.wait().unwrap();
        let now = fs::read_to_string(&path).unwrap();
        assert!(now == SOUND || now == tidy, "after kill {kill}: {now}");
        let left: Vec<String> = names(run.folder()).into_iter().filter(|name| name != "a.wet").collect();
        assert!(left.is_empty() || left == [OF_THE_RECIPE], "after kill {kill}: {left:?}");
    }
    fs::write(&path, SOUND).unwrap();
    assert!(call(&run).status().unwrap().success());
    assert_eq!(names(run.folder()), ["a.wet"]);
    assert_eq!(fs::read_to_string(&path).unwrap(), tidy);
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
