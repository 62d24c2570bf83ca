//! `follow` that is killed while a person says something: the place on the disk is whole, and has all that was said or
//! all but the last.

use std::io::{Read as _, Write as _};
use std::path::Path;
use std::process::{Child, Command, Stdio};
use std::sync::{Arc, Mutex};
use std::thread::sleep;
use std::time::{Duration, Instant};

use rustix::process::{Pid, Signal, kill_process};
use serde_json::Value;

use crate::evenings::shelf;

const SCRIPT: &str = "/usr/bin/script";
const KILLS: u64 = 60;
const PATIENCE: Duration = Duration::from_secs(20);

/// What was said, by the file; `None` if there is no file.
fn said(place: &Path) -> Option<Vec<Value>> {
    let text = std::fs::read_to_string(place).ok()?;
    let kept: Value = serde_json::from_str(&text).unwrap_or_else(|error| panic!("{error}: {text:?}"));
    Some(kept["said"].as_array().unwrap().clone())
}

#[track_caller]
fn wait_for<T>(what: &str, mut found: impl FnMut() -> Option<T>) -> T {
    let began = Instant::now();
    loop {
        if let Some(found) = found() {
            return found;
        }
        assert!(began.elapsed() < PATIENCE, "{what}");
        sleep(Duration::from_millis(2));
    }
}

/// The session on a terminal, the id of its process, and what it prints.
fn follow(folder: &Path) -> (Child, Pid, Arc<Mutex<Vec<u8>>>) {
    let program = env!("CARGO_BIN_EXE_wetside");
    let call = "follow estuary-400-mq --at 21.5C --rolls 5x120 --tank tall-five";
    let pid = folder.join("pid");
    let _ = std::fs::remove_file(&pid);
    let shell = format!("sh -c 'echo $$ > pid.new; mv pid.new pid; exec {program} {call}'");
    let mut child = Command::new(SCRIPT)
        .args(["-qec", &shell, "/dev/null"])
        .current_dir(folder)
        .env("TERM", "xterm")
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .spawn()
        .unwrap();
    let printed: Arc<Mutex<Vec<u8>>> = Arc::default();
    let (mut out, sink) = (child.stdout.take().unwrap(), Arc::clone(&printed));
    std::thread::spawn(move || {
        let mut piece = [0; 4096];
        while let Ok(read @ 1..) = out.read(&mut piece) {
            sink.lock().unwrap().extend(&piece[..read]);
        }
    });
    let pid = wait_for("the program starts", || std::fs::read_to_string(&pid).ok());
    (child, Pid::from_raw(pid.trim().parse().unwrap()).unwrap(), printed)
}

#[test]
fn a_killed_session_goes_on_with_all_that_was_said_or_all_but_the_last() {
    if !Path::new(SCRIPT).exists() {
        return crate::unprivileged::left_out("there is no /usr/bin/script to make a terminal with");
    }
    let run = shelf();
    // The place is beside the journal.
    std::fs::create_dir(run.folder().join("journal")).unwrap();
    let place = run.folder().join(".tonight/follow.json");
    let (mut old, mut before) = (0, 0);
    for kill in 0..KILLS {
        let (mut child, pid, printed) = follow(run.folder());
        let mut keys = child.stdin.take().unwrap();
        let mut press = |key: &str| {
            keys.write_all(key.as_bytes()).unwrap();
            keys.flush().unwrap();
        };
        let has = |words: &str| String::from_utf8_lossy(&printed.lock().unwrap()).contains(words);
        wait_for("the cautions are shown", || has("any key continues").then_some(()));
        // Through the pages of the cautions and out of the list of steps; in the work the key means nothing.
        for _ in 0..8 {
            press("x");
            sleep(Duration::from_millis(15));
        }
        if before > 0 {
            wait_for("it asks which bath is in", || {
                has("Which bath is in the tank, and since when?").then_some(())
            });
        }
        if before == 0 {
            press("s");
            before = wait_for("the start is kept", || said(&place)).len();
            // Five seconds are counted in, in which there is no moment to go to.
            sleep(Duration::from_millis(5200));
        }
        // One moment on or back, which is kept before the next one.
        press("n");
        wait_for("the press is kept", || said(&place).filter(|said| said.len() == before + 1));
        press(if kill % 2 == 0 { "b" } else { "n" });
        // From at once, before any machine can have written, to a fifth of a second later.
        sleep(Duration::from_micros(50 * (kill * 7919 % KILLS).pow(2)));
        kill_process(pid, Signal::KILL).unwrap();
        drop(keys);
        child.wait().unwrap();
        let now = said(&place).unwrap().len();
        assert!(now == before + 1 || now == before + 2, "after kill {kill}: {now} after {before}");
        old += u64::from(now == before + 1);
        before = now;
        // A file that was half written has another name.
        let names = std::fs::read_dir(place.parent().unwrap()).unwrap();
        let names = names.map(|entry| entry.unwrap().file_name().into_string().unwrap());
        assert!(names.into_iter().all(|name| {
            [".gitignore", "card.json", "follow.json"].contains(&&*name) || name.starts_with(".wetside-")
        }));
    }
    assert!(old > 0 && old < KILLS, "the kills are not spread: {old} of {KILLS} before");
}
