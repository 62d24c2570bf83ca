//! Wrong and hostile input: the program reports it at once with the right status, never panics, never leaves a partial
//! file, and passes no control character to a terminal.
#![expect(clippy::indexing_slicing, reason = "a missing key must fail the test")]

mod bench;
mod calling;
#[cfg(target_os = "linux")]
mod clock;
mod hostile;
mod internal;
#[cfg(unix)]
mod killed;
mod outside;
pub(crate) mod reading;
#[cfg(unix)]
mod replaced;
#[cfg(unix)]
mod writing;

use std::ffi::OsStr;
use std::path::Path;
use std::process::{Command, Output};
use std::thread::sleep;
use std::time::Duration;

use crate::program::Run;
use crate::unprivileged::of;

/// A recipe that needs no tank: one roll of 120 is 500 ml.
const SOUND: &str = "\
wetside 1

film plain-film {
    speed ISO 100
}

solution dev \"Developer\" {
    role developer
    contains metol
    needs 250 ml per roll
}

recipe plain \"A plain one\" {
    film plain-film

    develop {
        in dev 1+1, one-shot
        time 10:00
        between 18 C and 24 C
        agitate first 30 s, then 10 s every 1 min
    }
}
";

/// An evening that suits it.
const EVENING: [&str; 4] = ["--at", "20C", "--rolls", "1x120"];

/// In a folder with that recipe as `a.wet`.
fn beside_a_sound_one() -> Run {
    Run::new().file("a.wet", SOUND)
}

fn card(run: Run, recipe: impl AsRef<OsStr>) -> Run {
    run.arg("card").arg(recipe.as_ref()).args(EVENING)
}

/// The standard error of a call that fails with this status. It has each of these words, and standard output is empty.
#[track_caller]
fn told(run: &Run, status: i32, words: &[&str]) -> String {
    let (stdout, stderr) = run.fails(status);
    assert_eq!(stdout, "", "{run} prints a result and fails");
    civil(&stderr);
    // A message is wrapped, so its words may be on two lines.
    let flat = stderr.lines().map(|line| line.trim_matches([' ', '|'])).collect::<Vec<_>>().join(" ");
    for word in words {
        assert!(flat.contains(word), "{run} does not say {word:?}:\n{stderr}");
    }
    stderr
}

/// Says something, in words for people, and nothing that steers a terminal.
#[track_caller]
fn civil(stderr: &str) {
    assert!(!stderr.trim().is_empty(), "it fails in silence");
    let inner = ["panicked", "RUST_BACKTRACE", "internal error", "unwrap", "src/", "Os {"];
    assert!(!inner.iter().any(|word| stderr.contains(word)), "{stderr}");
    harmless(stderr);
}

/// No control but line ends, no mark that turns the direction of text, no letter without width.
#[track_caller]
fn harmless(text: &str) {
    let steers = |letter: &char| {
        matches!(letter, '\u{ad}' | '\u{61c}' | '\u{200b}'..='\u{200f}' | '\u{2028}'..='\u{202e}')
            || matches!(letter, '\u{2060}'..='\u{206f}' | '\u{feff}' | '\u{e0000}'..='\u{e0fff}')
            || letter.is_control() && *letter != '\n'
    };
    let odd = text.chars().find(steers);
    assert_eq!(odd, None, "{text:?}");
}

/// The names in a folder, in order; whatever the program left there is among them.
fn names(folder: &Path) -> Vec<String> {
    let entries = std::fs::read_dir(folder).unwrap();
    let mut names: Vec<_> =
        entries.map(|entry| entry.unwrap().file_name().to_string_lossy().into_owned()).collect();
    names.sort();
    names
}

/// The program by itself, for streams, users and files that a [`Run`] does not have.
fn command(folder: &Path) -> Command {
    of(Path::new(env!("CARGO_BIN_EXE_wetside")), folder)
}

/// How it ended; fails if it has not after twenty seconds.
#[track_caller]
fn ended(command: &mut Command) -> Output {
    let mut child = command.spawn().unwrap();
    for _ in 0..2000 {
        if child.try_wait().unwrap().is_some() {
            return child.wait_with_output().unwrap();
        }
        sleep(Duration::from_millis(10));
    }
    child.kill().unwrap();
    child.wait().unwrap();
    panic!("{command:?} hangs");
}

/// Status, standard output and standard error.
#[track_caller]
fn outcome(command: &mut Command) -> (i32, String, String) {
    let Output { status, stdout, stderr } = ended(command);
    let text = |bytes| String::from_utf8(bytes).unwrap();
    (status.code().unwrap_or_else(|| panic!("killed: {status}")), text(stdout), text(stderr))
}
