//! Colour: on a terminal unless it is refused, with `--color always`, and never in a file. It adds escape sequences
//! and changes no letter.

use super::{ALONE, everyday};
use crate::evenings::shelf;
use crate::program::Run;

/// The text without its colour sequences.
fn bare(text: &str) -> String {
    let mut pieces = text.split("\u{1b}[");
    let first = pieces.next().unwrap().to_owned();
    pieces.fold(first, |bare, piece| bare + piece.split_once('m').expect("each sequence ends in m").1)
}

#[test]
fn output_into_a_pipe_has_no_colour_by_default() {
    let plain = everyday(shelf()).succeeds();
    assert!(!plain.contains('\u{1b}'));
    for args in [["--color", "never"], ["--color", "auto"]] {
        assert_eq!(everyday(shelf()).args(args).succeeds(), plain);
    }
    assert_eq!(everyday(shelf()).env("TERM", "xterm-256color").succeeds(), plain);
}

/// The option overrides the environment.
#[test]
fn color_always_adds_colour_and_changes_no_letter() {
    let plain = everyday(shelf()).succeeds();
    for run in [shelf(), shelf().env("NO_COLOR", "1"), shelf().env("TERM", "dumb")] {
        let coloured = everyday(run).args(["--color", "always"]).succeeds();
        assert!(coloured.contains("\u{1b}["), "{coloured}");
        assert_eq!(bare(&coloured), plain);
    }
    let before =
        shelf().args(["--color", "always", "card", "estuary-400-mq"]).args(super::EVENING).succeeds();
    assert_eq!(bare(&before), plain);
}

#[test]
fn a_written_file_has_no_colour() {
    for name in ["tonight.txt", "tonight.json"] {
        let run = everyday(shelf()).args(["--color", "always", "-o", name]);
        run.succeeds();
        assert!(!std::fs::read_to_string(run.folder().join(name)).unwrap().contains('\u{1b}'));
    }
    assert!(!everyday(shelf()).args(["--color", "always", "--as", "json"]).succeeds().contains('\u{1b}'));
}

#[test]
fn a_report_has_colour_on_either_stream() {
    let faulty = || Run::new().file("a.wet", ALONE.replace("18 C", "18"));
    let (plain, _) = faulty().args(["check", "a.wet"]).fails(1);
    let (coloured, stderr) = faulty().args(["check", "a.wet", "--color", "always"]).fails(1);
    assert!(coloured.contains("\u{1b}[") && stderr.is_empty());
    assert_eq!(bare(&coloured), plain);
    let evening = ["--at", "20C", "--rolls", "1"];
    let (_, plain) = faulty().args(["card", "a.wet"]).args(evening).fails(1);
    let (stdout, coloured) = faulty().args(["card", "a.wet", "--color", "always"]).args(evening).fails(1);
    assert!(!plain.contains('\u{1b}') && stdout.is_empty());
    assert_eq!(bare(&coloured), plain);
}

/// Needs the system's `script` to make a terminal; without it the test is reported as skipped.
#[cfg(target_os = "linux")]
#[test]
fn a_terminal_has_colour_unless_it_is_refused() {
    use std::process::{Command, Stdio};

    use crate::unprivileged::left_out;

    let run = shelf();
    let shown = |variables: &[(&str, &str)], more: &str| {
        let call = format!(
            "{} card estuary-400-mq --at 21.5C --rolls 5x120 --tank tall-five {more}",
            env!("CARGO_BIN_EXE_wetside")
        );
        let mut script = Command::new("/usr/bin/script");
        script.args(["-qec", &call, "/dev/null"]).current_dir(run.folder()).stdin(Stdio::null());
        script
            .env_clear()
            .env("SHELL", "/bin/sh")
            .env("PATH", "/usr/bin:/bin")
            .envs(variables.iter().copied());
        let output = script.output().ok()?;
        assert!(output.status.success(), "{output:?}");
        Some(String::from_utf8(output.stdout).unwrap().replace("\r\n", "\n"))
    };
    let plain = everyday(shelf()).succeeds();
    let Some(coloured) = shown(&[("TERM", "xterm")], "") else {
        left_out("there is no /usr/bin/script to make a terminal with");
        return;
    };
    assert!(coloured.contains("\u{1b}["), "{coloured}");
    assert_eq!(bare(&coloured), plain);
    assert_eq!(shown(&[("TERM", "xterm"), ("NO_COLOR", "")], "").unwrap(), coloured);
    for refused in [[("TERM", "xterm"), ("NO_COLOR", "1")], [("TERM", "dumb"), ("HOME", "/")]] {
        assert_eq!(shown(&refused, "").unwrap(), plain, "{refused:?}");
        assert_eq!(shown(&refused, "--color always").unwrap(), coloured, "{refused:?}");
    }
    assert_eq!(shown(&[("TERM", "xterm")], "--color never").unwrap(), plain);
}
