//! `record --undo` adds a file with one line, and changes no other.

use super::{JOURNAL, added, darkroom, is_named, journal, one_roll, refused, two_rolls, with_journal};
use crate::program::Run;

fn undo<const N: usize>(run: Run, args: [&str; N]) -> Run {
    run.args(["record", "--undo"]).args(args).args(["--because", "it was a different tank"])
}

#[test]
fn undo_retracts_the_last_session_in_a_new_file() {
    let run = two_rolls(with_journal(JOURNAL));
    let (session, _) = added(&run);
    let run = undo(run.again(), []);
    let (name, text) = added(&run);
    assert!(is_named(&name, &name[..10]));
    let line = format!("retract {session} because \"it was a different tank\"\n");
    assert_eq!(text, format!("wetside 2\n\nuse \"{session}.wet\"\n\n{line}"));
    // Now the session of the older journal is the last that is not retracted.
    let run = undo(run.again(), []);
    let (_, text) = added(&run);
    let line = "retract evening-2026-11-10 because \"it was a different tank\"\n";
    assert_eq!(text, format!("wetside 2\n\nuse \"../journal.wet\"\n\n{line}"));
    refused(
        &undo(run.again(), []),
        2,
        &["there is no session to retract in journal", "nothing was recorded"],
    );
    assert!(run.again().args(["check"]).succeeds().starts_with("nothing to fix"));
    assert!(run.again().args(["tidy", "--dry", "journal"]).succeeds().starts_with("nothing to tidy"));
}

#[test]
fn rolls_of_a_retracted_session_can_be_recorded_again() {
    let run = two_rolls(darkroom());
    let (session, _) = added(&run);
    let run = undo(run.again(), [&session]);
    run.succeeds();
    let (_, text) = added(&two_rolls(run.again()));
    assert!(!text.contains("doubt"), "{text}");
}

#[test]
fn a_session_can_be_retracted_once() {
    let run = undo(with_journal(JOURNAL), ["evening-2026-11-10"]);
    run.succeeds();
    let run = undo(run.again(), ["evening-2026-11-10"]);
    refused(&run, 2, &["'evening-2026-11-10' is already retracted: it was a different tank"]);
}

#[test]
fn undo_suggests_a_similar_name_for_an_unknown_session() {
    let run = undo(with_journal(JOURNAL), ["evening-2026-11-11"]);
    refused(
        &run,
        2,
        &[
            "there is no session 'evening-2026-11-11' among the sound sessions of journal",
            "did you mean evening-2026-11-10?",
        ],
    );
    refused(&undo(darkroom(), []), 2, &["there is no session to retract in journal"]);
}

/// The names of two sessions of a day do not show which was later.
#[test]
fn undo_asks_which_of_two_sessions_of_the_last_day() {
    let run = one_roll(darkroom(), "2026-11-12");
    run.succeeds();
    let run = one_roll(run.again(), "2026-11-12");
    run.succeeds();
    let run = undo(run.again(), []);
    let names = journal(&run).into_keys().map(|name| name.trim_end_matches(".wet").to_owned());
    let names: Vec<String> = names.collect();
    let list = format!("2 sessions were on 2026-11-12: {}", names.join(", "));
    refused(&run, 2, &[&list, &format!("--undo {}", names[0])]);
    undo(run.again(), [&names[1]]).succeeds();
    assert_eq!(journal(&run).len(), 3);
    // The other is the only one left.
    undo(run.again(), []).succeeds();
}

/// The usage line of `--undo` in the help and in errors.
const BACK: &str = "wetside record --undo [SESSION] --because <TEXT> [--journal <PATH>]";

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
    refused(&run, 2, &["--because is only for --undo and --correct", "write --note"]);
    refused(&with_journal(JOURNAL).args(["record"]), 2, &["no card was made here", "wetside card --at 21.5"]);
}
