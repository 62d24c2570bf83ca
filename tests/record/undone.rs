//! `record --undo`: a line more, and nothing less.

use super::{JOURNAL, darkroom, journal, refused, two_rolls, with_journal};
use crate::program::Run;

fn undo<const N: usize>(run: Run, args: [&str; N]) -> Run {
    run.args(["record", "--undo"]).args(args).args(["--because", "the tank was another"])
}

#[test]
fn the_session_recorded_last_is_taken_back_and_all_that_was_written_stays() {
    let run = two_rolls(with_journal(JOURNAL));
    run.succeeds();
    let before = journal(&run);
    let line = "retract evening-2026-11-12 because \"the tank was another\"\n";
    let run = undo(run.again(), []);
    assert_eq!(run.succeeds(), format!("recorded in journal.wet:\n\n{line}"));
    assert_eq!(journal(&run), format!("{before}\n{line}"));
    // Now the one before it is the last that stands.
    let run = undo(run.again(), []);
    assert!(run.succeeds().contains("retract evening-2026-11-10 because"));
    refused(&undo(run.again(), []), 2, &["no session stands in journal.wet", "nothing was recorded"]);
}

#[test]
fn rolls_of_a_session_that_was_taken_back_can_be_recorded_again() {
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
fn a_session_is_taken_back_once() {
    let run = undo(with_journal(JOURNAL), ["evening-2026-11-10"]);
    run.succeeds();
    let run = undo(run.again(), ["evening-2026-11-10"]);
    refused(&run, 2, &["'evening-2026-11-10' is taken back already: the tank was another"]);
}

#[test]
fn a_session_that_is_not_there_is_told_with_the_one_that_may_be_meant() {
    let run = undo(with_journal(JOURNAL), ["evening-2026-11-11"]);
    refused(
        &run,
        2,
        &[
            "there is no session 'evening-2026-11-11' among the sound sessions of journal.wet",
            "did you mean evening-2026-11-10?",
        ],
    );
    refused(&undo(darkroom(), []), 2, &["no session stands in journal.wet"]);
}

/// How the help and a refusal tell of it.
const BACK: &str = "wetside record --undo [SESSION] --because <TEXT> [--journal <FILE>]";

#[test]
fn to_take_back_wants_a_reason_and_no_evening() {
    let run = with_journal(JOURNAL).args(["record", "--undo"]);
    refused(&run, 2, &["--undo wants a reason; write --because"]);
    let run = two_rolls(with_journal(JOURNAL)).args(["--undo", "--because", "no"]);
    refused(&run, 2, &["cannot be used with", BACK]);
    // Each form has a line of its own: none tells of the two together.
    let both = |line: &str| line.contains("--undo") && line.contains("--rolls");
    assert!(!run.fails(2).1.lines().any(both));
    let help = with_journal(JOURNAL).args(["record", "--help"]).succeeds();
    assert!(help.contains(BACK) && !help.lines().any(both), "{help}");
    let run = two_rolls(with_journal(JOURNAL)).args(["--because", "no"]);
    refused(&run, 2, &["write --undo before it, or --note for a remark"]);
    refused(&with_journal(JOURNAL).args(["record"]), 2, &["--at <TEMPERATURE>", "<RECIPE>"]);
}
