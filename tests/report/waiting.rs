//! The progress display of a long check: on a terminal only, and only after a noticeable wait.

use std::process::{Command, Stdio};

const PROGRAM: &str = env!("CARGO_BIN_EXE_wetside");
/// A file that arrives slowly, and one that is there.
const SLOW: &str = "(sleep 1.5; echo 'wetside 1') | \"$PROGRAM\" check -";
const QUICK: &str = "echo 'wetside 1' | \"$PROGRAM\" check -";
const TOLD: &str = "files checked: ";

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

#[expect(clippy::print_stderr, reason = "a test that was left out says so")]
fn not_tried() {
    eprintln!("not tried: there is no `script` of util-linux here to pass for a terminal");
}

#[test]
fn a_terminal_is_told_how_far_a_long_check_has_come() {
    let Some(shown) = on_a_terminal(SLOW) else { return not_tried() };
    assert!(shown.contains(&format!("{TOLD}1")), "{shown}");
    let behind = shown.rsplit(TOLD).next().unwrap();
    assert!(behind.contains("\u{1b}[2K"), "the line is wiped out at the end: {shown:?}");
}

#[test]
fn a_terminal_is_not_told_of_a_short_check() {
    let Some(shown) = on_a_terminal(QUICK) else { return not_tried() };
    assert!(!shown.contains(TOLD), "{shown}");
}

#[cfg(unix)]
#[test]
fn no_file_is_told_how_far_a_long_check_has_come() {
    let mut shell = Command::new("/bin/sh");
    let ended = shell.args(["-c", SLOW]).env("PROGRAM", PROGRAM).env("TERM", "xterm").output().unwrap();
    assert_eq!(String::from_utf8_lossy(&ended.stdout), "nothing to fix in 1 file\n");
    assert_eq!(String::from_utf8_lossy(&ended.stderr), "");
}
