//! The terminal is restored after a panic and while the program is stopped, and taken again afterwards.

use std::process::Command;
use std::time::{Duration, Instant};

use super::CALL;
use super::terminal::{CURSOR, Desk, OTHER};
use wetside::cli::Screen;
use wetside::emit::{Row, Shade};

/// The message of the panic below.
const MESSAGE: &str = "the floor of the darkroom gave way";

/// Set where the test below runs itself again, to panic in a terminal of its own.
const WITHIN: &str = "PANICS_ON_SCREEN";

/// Takes the terminal over and panics.
fn panic_on_the_screen() {
    let mut screen = Screen::open(true).unwrap();
    let row = Row { text: "pour now".to_owned(), shade: Shade::Strong };
    screen.show(vec![row]).unwrap();
    panic!("{MESSAGE}");
}

/// The settings are restored, and the panic is reported on the old screen.
#[test]
fn a_panic_restores_the_terminal_and_then_prints_its_message() {
    if std::env::var_os(WITHIN).is_some() {
        return panic_on_the_screen();
    }
    let program = std::env::current_exe().unwrap();
    let test = "follow::restored::a_panic_restores_the_terminal_and_then_prints_its_message";
    let command = format!("{} --exact {test} --nocapture --test-threads 1", program.display());
    let Some(mut desk) = Desk::running(&[(WITHIN, "1")], &command) else { return };
    let settings = desk.until("pid=").trim().to_owned();
    assert!(settings.matches(':').count() > 20, "{settings:?}");
    let before = desk.until("pour now");
    assert!(before.contains(OTHER.0) && before.contains(CURSOR.0), "{before:?}");
    let printed = desk.until(MESSAGE);
    assert!(printed.contains(CURSOR.1) && printed.contains(OTHER.1), "{printed:?}");
    let after = desk.until("ended=");
    assert!(after.contains("1 failed") && !after.contains(OTHER.0), "{after:?}");
    assert_eq!(desk.until(";"), "101");
    assert_eq!(desk.until("closed").trim(), settings, "the terminal's settings");
}

/// Unwinding restores the terminal too; with an aborting profile only the hook would. The profile `module` makes a module
/// for a page, which has no terminal.
#[test]
fn no_profile_ends_the_program_without_unwinding() {
    let manifest = std::fs::read_to_string(concat!(env!("CARGO_MANIFEST_DIR"), "/Cargo.toml")).unwrap();
    let manifest: toml::Table = manifest.parse().unwrap();
    let profiles = manifest["profile"].as_table().unwrap();
    assert!(profiles.contains_key("release"), "{profiles:?}");
    for (name, profile) in profiles.iter().filter(|(name, _)| *name != "module") {
        assert_eq!(profile.get("panic"), None, "{name}");
    }
}

/// The letter of the process state, which follows the name: `T` is stopped.
fn state(pid: &str) -> String {
    let stat = std::fs::read_to_string(format!("/proc/{pid}/stat")).unwrap();
    stat.rsplit_once(") ").unwrap().1.split(' ').next().unwrap().to_owned()
}

fn send(signal: &str, pid: &str) {
    assert!(Command::new("kill").args([format!("-{signal}"), pid.to_owned()]).status().unwrap().success());
}

/// The settings of the terminal that this program has.
fn settings_of(pid: &str) -> String {
    let terminal = std::fs::read_link(format!("/proc/{pid}/fd/0")).unwrap();
    let output = Command::new("stty").arg("-g").arg("-F").arg(terminal).output().unwrap();
    String::from_utf8(output.stdout).unwrap().trim().to_owned()
}

#[track_caller]
fn wait_until(what: &str, mut is_so: impl FnMut() -> bool) {
    let began = Instant::now();
    while !is_so() {
        assert!(began.elapsed() < Duration::from_secs(90), "{what} did not happen in 90 seconds");
        std::thread::sleep(Duration::from_millis(10));
    }
}

/// A program that stayed would read the end of its input forever, on a whole core. In a session of its own the program
/// gets no signal when the terminal closes.
#[test]
fn closing_the_terminal_ends_the_program_with_or_without_the_signal() {
    for session in ["", "/usr/bin/setsid "] {
        let program = env!("CARGO_BIN_EXE_wetside");
        let command = format!("{session}{program} {}", CALL.join(" "));
        let Some(mut desk) = Desk::running(&[], &command) else { return };
        let (_, pid) = desk.begun();
        desk.press("s");
        desk.until("running");
        desk.close();
        // A process that has ended is gone, or is a zombie, `Z`, until its parent waits for it.
        let stat = || std::fs::read_to_string(format!("/proc/{pid}/stat")).ok();
        wait_until("the end", || stat().is_none_or(|stat| stat.contains(") Z ")));
    }
}

/// Both by the key and by the signal that a shell sends.
#[test]
fn a_stop_restores_the_terminal_until_the_program_continues() {
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
        // The whole screen is drawn again, and the clock ran on.
        desk.until("DEVELOP");
        desk.until("running");
        assert_eq!(settings_of(&pid), taken);
        desk.press("qy");
        desk.ended("0", &settings);
    }
}

/// The shell has changed the terminal in between.
#[test]
fn after_a_stop_without_warning_the_terminal_is_taken_again() {
    let Some(mut desk) = Desk::open(&[], "") else { return };
    let (settings, pid) = desk.begun();
    let taken = settings_of(&pid);
    send("STOP", &pid);
    wait_until("the stop", || state(&pid) == "T");
    let terminal = std::fs::read_link(format!("/proc/{pid}/fd/0")).unwrap();
    assert!(Command::new("stty").arg("-F").arg(terminal).arg(&settings).status().unwrap().success());
    send("CONT", &pid);
    desk.until(OTHER.0);
    desk.until("hold Enter to start");
    assert_eq!(settings_of(&pid), taken);
    desk.press("qy");
    desk.ended("0", &settings);
}
