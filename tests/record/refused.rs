//! Calls that are refused and write nothing: contradictions, names that the journal cannot use, invalid texts, and a
//! clock that runs back.

use super::{DARKROOM, JOURNAL, darkroom, evening, one_roll, refused, two_rolls, with_journal};

#[test]
fn a_bath_before_mixing_or_after_discarding_is_refused() {
    let run = one_roll(with_journal(JOURNAL), "2026-11-01").args(["--bath", "fix-a"]);
    refused(&run, 1, &["on 2026-11-01 the bath 'fix-a' was not mixed yet"]);
    let gone = DARKROOM.replace("2026-11-02", "2026-11-02\n    discarded 2026-11-11");
    let run = two_rolls(darkroom().file("darkroom.wet", gone));
    refused(&run, 1, &["on 2026-11-12 the bath 'fix-a' was already poured away"]);
}

#[test]
fn a_roll_twice_in_one_evening_is_refused() {
    let run = evening(darkroom()).args(["--rolls", "2x120", "--label", "E-01,E-01", "--date", "2026-11-12"]);
    refused(&run, 1, &["there is already a roll 'E-01'"]);
}

#[test]
fn a_roll_that_the_backlog_does_not_have_is_refused() {
    let run = one_roll(with_journal(JOURNAL), "2026-11-12").args(["--label", "E-99", "--backlog", "autumn"]);
    refused(&run, 1, &["the backlog 'autumn' has no roll 'E-99'"]);
    let run = one_roll(with_journal(JOURNAL), "2026-11-12").args(["--backlog", "autumn"]);
    refused(&run, 2, &["which rolls of the backlog were developed?", "--label E-01,E-02"]);
}

/// Only the end of a journal is written to, so the user has to add a `use` line.
#[test]
fn a_bath_that_the_journal_does_not_use_is_refused_with_the_line_to_add() {
    let bare = JOURNAL.replace("use \"darkroom.wet\"   # bottles and rolls\n", "");
    let run = one_roll(with_journal(&bare), "2026-11-12").args(["--bath", "fix-a"]);
    refused(&run, 2, &["journal.wet does not use the file of the bath 'fix-a'", "use \"darkroom.wet\""]);
    let run = two_rolls(with_journal(&bare));
    refused(&run, 2, &["does not use the file", "use \"darkroom.wet\""]);
}

#[test]
fn an_unknown_name_is_an_error_that_suggests_a_similar_one() {
    let run = one_roll(with_journal(JOURNAL), "2026-11-12").args(["--bath", "fix-b"]);
    refused(&run, 2, &["there is no bath 'fix-b' in this darkroom", "did you mean fix-a?"]);
    let run = one_roll(darkroom(), "2026-11-12").args(["--label", "E-01", "--backlog", "autunm"]);
    refused(
        &run,
        2,
        &["there is no backlog 'autunm' in the darkroom of journal.wet", "did you mean autumn?"],
    );
}

#[test]
fn a_bath_that_several_files_declare_is_refused() {
    let other = DARKROOM.replace("recipes/", "../recipes/").replace("backlog autumn", "backlog winter");
    let run = one_roll(darkroom().file("cellar/darkroom.wet", other).file(".git/HEAD", ""), "2026-11-12")
        .args(["--bath", "fix-a"]);
    refused(&run, 2, &["the bath 'fix-a' is in 2 files: cellar/darkroom.wet, darkroom.wet"]);
}

#[test]
fn a_call_must_name_one_of_several_journals() {
    let run = darkroom().file("newer.wet", JOURNAL).file("older.wet", JOURNAL);
    let run = one_roll(run, "2026-11-12");
    refused(&run, 2, &["2 files have sessions: newer.wet, older.wet", "--journal newer.wet"]);
}

#[test]
fn an_evening_that_does_not_compile_is_refused() {
    let run = darkroom().args([
        "record",
        "estuary-400-mq",
        "--at",
        "30C",
        "--rolls",
        "1x120",
        "--tank",
        "tall-five",
    ]);
    refused(&run, 1, &["outside-band"]);
    let run = one_roll(darkroom(), "2026-11-12").args(["--label", "A,B"]);
    refused(&run, 2, &["there are 2 labels, and --rolls has only 1"]);
}

#[test]
fn a_journal_with_errors_is_not_written_to() {
    for (text, word) in [
        (JOURNAL.trim_end().trim_end_matches('}').to_owned(), "unclosed-block"),
        (JOURNAL.replace("358f7dfb", "?"), "bad-fingerprint"),
        (JOURNAL.replace("wetside 1\n", ""), "put 'wetside 1' in its first line"),
    ] {
        refused(&one_roll(with_journal(&text), "2026-11-12"), 1, &[word, "nothing was recorded"]);
    }
    refused(&one_roll(with_journal(b"\xff"), "2026-11-12"), 2, &["it is not UTF-8"]);
}

#[test]
fn an_invalid_text_is_refused() {
    for (text, words) in [
        ("a \"tidal\" test", "a text has no double quotes"),
        ("one\nsession two {", "a text is one line"),
        ("one\r", "a text is one line"),
        ("\u{202e}edis", "remove the hidden character U+202E"),
        ("\u{1b}[2J", "remove the hidden character U+001B"),
        ("\u{200b}", "remove the hidden character U+200B"),
        (" ", "the text is empty"),
    ] {
        for option in ["--note", "--label"] {
            let run = one_roll(with_journal(JOURNAL), "2026-11-12").args([option, text]);
            refused(&run, 2, &[words]);
        }
        let run = with_journal(JOURNAL).args(["record", "--undo", "--because", text]);
        refused(&run, 2, &[words]);
    }
    let long = "x".repeat(5000);
    refused(&one_roll(with_journal(JOURNAL), "2026-11-12").args(["--note", &long]), 1, &["line-too-long"]);
}

#[test]
fn a_text_cannot_add_a_statement() {
    let note = "} retract evening-2026-11-10 because # { use ../../x.wet \\";
    let run = one_roll(with_journal(JOURNAL), "2026-11-12").args(["--note", note]);
    run.succeeds();
    assert!(super::journal(&run).ends_with(&format!("    note      \"{note}\"\n}}\n")));
    assert!(run.again().args(["check", "journal.wet"]).succeeds().starts_with("nothing to fix"));
}

/// A session of the far future simulates a clock that was set back; an explicit date is accepted.
#[test]
fn a_clock_that_runs_back_is_an_error_unless_a_date_is_given() {
    let ahead = JOURNAL.replace("2026-11-10", "9000-01-01");
    let run = evening(with_journal(&ahead)).args(["--rolls", "1x120"]);
    refused(&run, 2, &["by the clock it is", "'evening-9000-01-01' was on 9000-01-01", "--date"]);
    let run = one_roll(run.again(), "2026-11-12");
    run.succeeds();
    // A retracted session does not count.
    let run = with_journal(format!("{ahead}\nretract evening-9000-01-01 because \"a slip\"\n"));
    evening(run).args(["--rolls", "1x120"]).succeeds();
}

/// Between these two zones lie 26 hours, so that it is never the same day in both.
#[test]
fn today_depends_on_the_time_zone_of_the_machine() {
    let name = |zone: &str| {
        let run = evening(darkroom()).args(["--rolls", "1x120"]).env("TZ", zone);
        let said = run.succeeds();
        said.lines().find(|line| line.starts_with("session ")).unwrap().to_owned()
    };
    assert!(name("west+12") < name("east-14"));
}
