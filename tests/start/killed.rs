//! `start` when it is killed: the folder is complete or absent, and other leftovers are hidden.

use std::fs;
use std::path::Path;
use std::process::{Command, Stdio};
use std::thread::sleep;
use std::time::Instant;

use super::files;
use crate::program::Run;

/// The number of kills.
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

/// Kills at times from before the first byte until well after the end. The duration of a call depends on the load
/// of the machine, so each result adjusts the estimate.
#[test]
fn after_a_kill_the_folder_is_complete_or_absent() {
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
        // It may have ended already.
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
    assert!(before >= 30 && after >= 30, "the kills are not spread: {before} before, {after} after");
    let _ = fs::remove_dir_all(folder.join("shelf"));
    assert!(starter(folder).status().unwrap().success());
    let mut left = names(folder).into_iter().filter(|name| name != "shelf");
    assert!(left.all(|name| name.starts_with(".wetside-")));
    assert_eq!(run.args(["check"]).succeeds(), "nothing to fix in 6 files\n");
}
