//! The terminal is restored after a panic and while the program is stopped, and taken again afterwards.

use std::process::Command;
use std::time::{Duration, Instant};

use super::terminal::{CURSOR, Desk, OTHER};
use wetside::cli::Screen;
use wetside::emit::{Row, Shade};

/// The message of the panic below.
const FELL: &str = "the floor of the darkroom gave way";

/// Set where the test below runs itself again, to panic in a terminal of its own.
const WITHIN: &str = "FALLS_OVER";

/// Takes the terminal over and panics.
fn falls_over() {
    let mut screen = Screen::open(true).unwrap();
    let row = Row { text: "pour now".to_owned(), shade: Shade::Strong };
    screen.show(vec![row]).unwrap();
    panic!("{FELL}");
}

/// The settings are restored, and the panic is reported on the old screen.
#[test]
fn a_panic_gives_the_terminal_back_and_is_told_after_that() {
    if std::env::var_os(WITHIN).is_some() {
        return falls_over();
    }
    let program = std::env::current_exe().unwrap();
    let test = "follow::given_back::a_panic_gives_the_terminal_back_and_is_told_after_that";
    let command = format!("{} --exact {test} --nocapture --test-threads 1", program.display());
    let Some(mut desk) = Desk::running(&[(WITHIN, "1")], &command) else { return };
    let settings = desk.until("pid=").trim().to_owned();
    assert!(settings.matches(':').count() > 20, "{settings:?}");
    let before = desk.until("pour now");
    assert!(before.contains(OTHER.0) && before.contains(CURSOR.0), "{before:?}");
    let given_back = desk.until(FELL);
    assert!(given_back.contains(CURSOR.1) && given_back.contains(OTHER.1), "{given_back:?}");
    let after = desk.until("ended=");
    assert!(after.contains("1 failed") && !after.contains(OTHER.0), "{after:?}");
    assert_eq!(desk.until(";"), "101");
    assert_eq!(desk.until("closed").trim(), settings, "the terminal's settings");
}

/// Unwinding restores the terminal too; with an aborting profile only the hook would.
#[test]
fn no_profile_ends_the_program_without_unwinding() {
    let manifest = std::fs::read_to_string(concat!(env!("CARGO_MANIFEST_DIR"), "/Cargo.toml")).unwrap();
    let manifest: toml::Table = manifest.parse().unwrap();
    let profiles = manifest["profile"].as_table().unwrap();
    assert!(profiles.contains_key("release"), "{profiles:?}");
    for (name, profile) in profiles {
        assert_eq!(profile.get("panic"), None, "{name}");
    }
}

/// The letter of the process state, which follows the name: `T` is stopped.
fn state(pid: &str) -> String {
    let told = std::fs::read_to_string(format!("/proc/{pid}/stat")).unwrap();
    told.rsplit_once(") ").unwrap().1.split(' ').next().unwrap().to_owned()
}

fn send(signal: &str, pid: &str) {
    assert!(Command::new("kill").args([format!("-{signal}"), pid.to_owned()]).status().unwrap().success());
}

/// The settings of the terminal that this program has.
fn settings_of(pid: &str) -> String {
    let terminal = std::fs::read_link(format!("/proc/{pid}/fd/0")).unwrap();
    let told = Command::new("stty").arg("-g").arg("-F").arg(terminal).output().unwrap();
    String::from_utf8(told.stdout).unwrap().trim().to_owned()
}

#[track_caller]
fn wait_until(what: &str, mut is_so: impl FnMut() -> bool) {
    let began = Instant::now();
    while !is_so() {
        assert!(began.elapsed() < Duration::from_secs(90), "in vain for {what}");
        std::thread::sleep(Duration::from_millis(10));
    }
}

/// A program that stayed would read the end of its input for ever, on a whole core.
#[test]
fn a_terminal_that_is_gone_takes_the_program_with_it() {
    let Some(mut desk) = Desk::open(&[], "") else { return };
    let (_, pid) = desk.begun();
    desk.press("s");
    desk.until("running");
    desk.close();
    // Who has ended is gone, or waits as `Z` for whoever began it.
    let told = || std::fs::read_to_string(format!("/proc/{pid}/stat")).ok();
    wait_until("the end", || told().is_none_or(|told| told.contains(") Z ")));
}

/// By the key and by the signal that a shell sends.
#[test]
fn a_stop_gives_the_terminal_back_and_going_on_takes_it_again() {
    for by_key in [true, false] {
        let Some(mut desk) = Desk::open(&[], "") else { return };
        let (settings, pid) = desk.begun();
        desk.press("s");
        desk.until("running");
        let taken = settings_of(&pid);
        assert_ne!(taken, settings);
        if by_key {
            desk.press("\u{1a}")
        } else {
            send("TSTP", &pid)
        }
        let last = desk.until(OTHER.1);
        assert!(last.contains(CURSOR.1), "{last:?}");
        wait_until("the stop", || state(&pid) == "T");
        assert_eq!(settings_of(&pid), settings);
        send("CONT", &pid);
        desk.until(OTHER.0);
        // All of the screen is drawn anew, and the clock went on.
        desk.until("DEVELOP");
        desk.until("running");
        assert_eq!(settings_of(&pid), taken);
        desk.press("q");
        desk.ended("0", &settings);
    }
}

/// A stop without warning: the shell has changed the terminal in between.
#[test]
fn after_a_stop_that_cannot_be_held_the_terminal_is_taken_again() {
    let Some(mut desk) = Desk::open(&[], "") else { return };
    let (settings, pid) = desk.begun();
    let taken = settings_of(&pid);
    send("STOP", &pid);
    wait_until("the stop", || state(&pid) == "T");
    let terminal = std::fs::read_link(format!("/proc/{pid}/fd/0")).unwrap();
    assert!(Command::new("stty").arg("-F").arg(terminal).arg(&settings).status().unwrap().success());
    send("CONT", &pid);
    desk.until(OTHER.0);
    desk.until("s starts");
    assert_eq!(settings_of(&pid), taken);
    desk.press("q");
    desk.ended("0", &settings);
}
