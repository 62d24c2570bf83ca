//! The progress display of a long check: on a terminal only, and only after a noticeable wait.

use std::process::{Command, Stdio};

const PROGRAM: &str = env!("CARGO_BIN_EXE_wetside");
/// A file that arrives slowly, and one that is there.
const SLOW: &str = "(sleep 1.5; echo 'wetside 1') | \"$PROGRAM\" check -";
const QUICK: &str = "echo 'wetside 1' | \"$PROGRAM\" check -";
const PROGRESS: &str = "files checked: ";

/// The terminal output of these commands; `None` if no terminal can be made here.
fn on_a_terminal(commands: &str) -> Option<String> {
    let version = Command::new("script").arg("--version").output().ok()?;
    if !String::from_utf8_lossy(&version.stdout).contains("util-linux") {
        return None;
    }
    let mut script = Command::new("script");
    script.args(["--quiet", "--return", "--command", commands, "/dev/null"]).stdin(Stdio::null());
    let shown = script.env("PROGRAM", PROGRAM).env("TERM", "xterm").env_remove("NO_COLOR").output().unwrap();
    let shown = String::from_utf8_lossy(&shown.stdout).into_owned();
    assert!(shown.contains("nothing to fix in 1 file"), "{shown}");
    Some(shown)
}

#[expect(clippy::print_stderr, reason = "a skipped test is reported")]
fn skipped() {
    eprintln!("skipped: there is no `script` of util-linux to make a terminal");
}

#[test]
fn a_long_check_shows_its_progress_on_a_terminal() {
    let Some(shown) = on_a_terminal(SLOW) else { return skipped() };
    assert!(shown.contains(&format!("{PROGRESS}1")), "{shown}");
    let after = shown.rsplit(PROGRESS).next().unwrap();
    assert!(after.contains("\u{1b}[2K"), "the progress line must be erased at the end: {shown:?}");
}

#[test]
fn a_short_check_shows_no_progress() {
    let Some(shown) = on_a_terminal(QUICK) else { return skipped() };
    assert!(!shown.contains(PROGRESS), "{shown}");
}

#[cfg(unix)]
#[test]
fn a_long_check_shows_no_progress_in_a_file() {
    let mut shell = Command::new("/bin/sh");
    let ended = shell.args(["-c", SLOW]).env("PROGRAM", PROGRAM).env("TERM", "xterm").output().unwrap();
    assert_eq!(String::from_utf8_lossy(&ended.stdout), "nothing to fix in 1 file\n");
    assert_eq!(String::from_utf8_lossy(&ended.stderr), "");
}
