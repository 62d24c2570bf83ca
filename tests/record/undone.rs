//! `record --undo` appends one line to the journal and changes nothing else.

use super::{JOURNAL, darkroom, journal, refused, two_rolls, with_journal};
use crate::program::Run;

fn undo<const N: usize>(run: Run, args: [&str; N]) -> Run {
    run.args(["record", "--undo"]).args(args).args(["--because", "the tank was another"])
}

#[test]
fn undo_retracts_the_last_session_and_keeps_the_text_of_the_journal() {
    let run = two_rolls(with_journal(JOURNAL));
    run.succeeds();
    let before = journal(&run);
    let line = "retract evening-2026-11-12 because \"the tank was another\"\n";
    let run = undo(run.again(), []);
    assert_eq!(run.succeeds(), format!("recorded in journal.wet:\n\n{line}"));
    assert_eq!(journal(&run), format!("{before}\n{line}"));
    // Now the session before it is the last that is not retracted.
    let run = undo(run.again(), []);
    assert!(run.succeeds().contains("retract evening-2026-11-10 because"));
    refused(
        &undo(run.again(), []),
        2,
        &["there is no session to retract in journal.wet", "nothing was recorded"],
    );
}

#[test]
fn rolls_of_a_retracted_session_can_be_recorded_again() {
    let run = two_rolls(darkroom());
    run.succeeds();
    let run = two_rolls(run.again());
    refused(&run, 1, &["developed-twice", "the roll 'E-01' was already developed on 2026-11-12"]);
    let run = undo(run.again(), ["evening-2026-11-12"]);
    run.succeeds();
    let run = two_rolls(run.again());
    assert!(run.succeeds().contains("session evening-2026-11-12-2 {\n"));
}

#[test]
fn a_session_can_be_retracted_once() {
    let run = undo(with_journal(JOURNAL), ["evening-2026-11-10"]);
    run.succeeds();
    let run = undo(run.again(), ["evening-2026-11-10"]);
    refused(&run, 2, &["'evening-2026-11-10' is already retracted: the tank was another"]);
}

#[test]
fn undo_suggests_a_similar_name_for_an_unknown_session() {
    let run = undo(with_journal(JOURNAL), ["evening-2026-11-11"]);
    refused(
        &run,
        2,
        &[
            "there is no session 'evening-2026-11-11' among the sound sessions of journal.wet",
            "did you mean evening-2026-11-10?",
        ],
    );
    refused(&undo(darkroom(), []), 2, &["there is no session to retract in journal.wet"]);
}

/// The usage line of `--undo` in the help and in errors.
const BACK: &str = "wetside record --undo [SESSION] --because <TEXT> [--journal <FILE>]";

#[test]
fn undo_needs_a_reason_and_excludes_the_options_of_a_session() {
    let run = with_journal(JOURNAL).args(["record", "--undo"]);
    refused(&run, 2, &["--undo needs a reason", "write --because"]);
    let run = two_rolls(with_journal(JOURNAL)).args(["--undo", "--because", "no"]);
    refused(&run, 2, &["cannot be used with", BACK]);
    // Each form has its own usage line.
    let both = |line: &str| line.contains("--undo") && line.contains("--rolls");
    assert!(!run.fails(2).1.lines().any(both));
    let help = with_journal(JOURNAL).args(["record", "--help"]).succeeds();
    assert!(help.contains(BACK) && !help.lines().any(both), "{help}");
    let run = two_rolls(with_journal(JOURNAL)).args(["--because", "no"]);
    refused(&run, 2, &["--because is only for --undo", "write --note"]);
    refused(&with_journal(JOURNAL).args(["record"]), 2, &["--at <TEMPERATURE>", "<RECIPE>"]);
}
