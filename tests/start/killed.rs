//! `start` that is killed: the shelf is there whole or not at all, and the next call in that folder takes away what
//! a killed one left, and nothing that anyone else made or still works in.

use std::fs::{self, File};
use std::os::unix::fs::symlink;
use std::path::Path;
use std::process::{Command, Stdio};
use std::thread::sleep;
use std::time::Instant;

use super::{files, started};
use crate::program::Run;

/// So often it is killed.
const KILLS: u32 = 300;

fn starter(folder: &Path) -> Command {
    let mut call = Command::new(env!("CARGO_BIN_EXE_wetside"));
    call.args(["start", "shelf"]).current_dir(folder).env_clear();
    call.stdin(Stdio::null()).stdout(Stdio::null()).stderr(Stdio::null());
    call
}

fn names(folder: &Path) -> Vec<String> {
    let entries = fs::read_dir(folder).unwrap();
    let mut names: Vec<_> =
        entries.map(|entry| entry.unwrap().file_name().to_string_lossy().into_owned()).collect();
    names.sort();
    names
}

/// The folder that a call leaves when it is killed after so many bytes of the first file of the shelf.
fn left(run: Run, name: &str, bytes: usize) -> Run {
    let (shelf, _) = started();
    let films = files(&shelf.folder().join("shelf"))["films.wet"].clone();
    run.file(&format!("{name}/shelf/films.wet"), &films[..bytes])
}

/// The sweep goes from before the first byte to well past the end. How long a call takes hangs on what else the
/// machine does, so each kill tells where the next is aimed.
#[test]
fn however_it_is_killed_the_shelf_is_whole_or_not_there_and_one_call_later_nothing_else_is() {
    let run = Run::new();
    let folder = run.folder();
    let began = Instant::now();
    assert!(starter(folder).status().unwrap().success());
    let mut usual = began.elapsed();
    let whole = files(&folder.join("shelf"));
    let (mut before, mut after) = (0, 0);
    for kill in 0..KILLS {
        if folder.join("shelf").exists() {
            fs::remove_dir_all(folder.join("shelf")).unwrap();
        }
        let mut child = starter(folder).spawn().unwrap();
        sleep(usual * (kill * 7919 % KILLS) * 3 / (KILLS * 2));
        // It may have ended by itself.
        let _ = child.kill();
        child.wait().unwrap();
        if folder.join("shelf").exists() {
            after += 1;
            usual = usual * 20 / 21;
            assert_eq!(files(&folder.join("shelf")), whole, "after kill {kill}");
        } else {
            before += 1;
            usual = usual * 21 / 20;
        }
    }
    assert!(before >= 30 && after >= 30, "all kills fell on one side: {before} before, {after} after");
    let _ = fs::remove_dir_all(folder.join("shelf"));
    assert!(starter(folder).status().unwrap().success());
    assert_eq!(names(folder), ["shelf"]);
}

#[test]
fn what_a_killed_call_left_goes_however_far_it_had_come() {
    let run = left(Run::new(), ".wetside-start-abc123", 40);
    let run = left(run, ".wetside-start-Zz9Zz9", 0);
    let run = run.file(".wetside-start-000000/shelf/films.wet", "");
    fs::remove_file(run.folder().join(".wetside-start-000000/shelf/films.wet")).unwrap();
    fs::create_dir(run.folder().join(".wetside-start-111111")).unwrap();
    assert!(starter(run.folder()).status().unwrap().success());
    assert_eq!(names(run.folder()), ["shelf"]);
}

#[test]
fn what_is_not_certainly_left_is_let_be() {
    let run = left(Run::new(), ".wetside-start-abc12", 40);
    let run = left(run, ".wetside-start-abc.23", 40);
    let run = run
        .file(".wetside-start-aaaaaa/shelf/films.wet", "mine")
        .file(".wetside-start-bbbbbb/shelf/note.txt", "mine")
        .file(".wetside-start-cccccc/note.txt", "mine")
        .file(".wetside-start-dddddd", "mine")
        .file("elsewhere/shelf/films.wet", "")
        .file(".wetside-start-ffffff/kept", "");
    fs::remove_file(run.folder().join(".wetside-start-ffffff/kept")).unwrap();
    symlink("elsewhere", run.folder().join(".wetside-start-eeeeee")).unwrap();
    symlink("../elsewhere/shelf", run.folder().join(".wetside-start-ffffff/shelf")).unwrap();
    let before = names(run.folder());
    assert_eq!(before.len(), 9);
    assert!(starter(run.folder()).status().unwrap().success());
    let mut expected = before;
    expected.push("shelf".to_owned());
    assert_eq!(names(run.folder()), expected);
    assert_eq!(
        fs::read_to_string(run.folder().join(".wetside-start-aaaaaa/shelf/films.wet")).unwrap(),
        "mine"
    );
    assert!(run.folder().join("elsewhere/shelf/films.wet").exists());
    assert!(run.folder().join(".wetside-start-ffffff/shelf").is_symlink());
}

/// A call that is at work holds its folder.
#[test]
fn what_another_call_still_works_in_is_let_be() {
    let run = left(Run::new(), ".wetside-start-abc123", 40);
    let held = File::open(run.folder().join(".wetside-start-abc123")).unwrap();
    held.lock().unwrap();
    assert!(starter(run.folder()).status().unwrap().success());
    assert_eq!(names(run.folder()), [".wetside-start-abc123", "shelf"]);
    drop(held);
    fs::remove_dir_all(run.folder().join("shelf")).unwrap();
    assert!(starter(run.folder()).status().unwrap().success());
    assert_eq!(names(run.folder()), ["shelf"]);
}

/// Each in a place of its own, so that all of them clear away beside each other.
#[test]
fn many_calls_at_once_do_not_take_each_others_folders() {
    let run = left(Run::new(), ".wetside-start-abc123", 40);
    let call = |number: u32| {
        let mut call = Command::new(env!("CARGO_BIN_EXE_wetside"));
        call.args(["start", &format!("shelf-{number}")]).current_dir(run.folder()).env_clear();
        call.stdin(Stdio::null()).stdout(Stdio::null()).stderr(Stdio::null()).spawn().unwrap()
    };
    let mut calls: Vec<_> = (0..12).map(call).collect();
    for (number, call) in calls.iter_mut().enumerate() {
        assert!(call.wait().unwrap().success());
        assert_eq!(files(&run.folder().join(format!("shelf-{number}"))).len(), 6);
    }
    assert!(names(run.folder()).iter().all(|name| name.starts_with("shelf-")), "{:?}", names(run.folder()));
}
