//! Calls that are refused and write nothing: a session that is recorded already, unknown names, invalid texts, a
//! darkroom that cannot be read, and a clock that runs back.

use super::{DARKROOM, JOURNAL, added, darkroom, evening, one_roll, refused, two_rolls, with_journal};

#[test]
fn a_session_that_is_recorded_already_is_refused() {
    let run = two_rolls(darkroom());
    let (name, _) = added(&run);
    let words =
        [&*format!("this session is recorded already: {name}"), &*format!("wetside record --undo {name}")];
    refused(&two_rolls(run.again()), 2, &words);
    // Two tanks without labels may be alike.
    one_roll(run.again(), "2026-11-12").succeeds();
    one_roll(run.again(), "2026-11-12").succeeds();
}

#[test]
fn a_backlog_without_labels_is_refused() {
    let run = one_roll(with_journal(JOURNAL), "2026-11-12").args(["--backlog", "autumn"]);
    refused(&run, 2, &["which rolls of the backlog were developed?", "--label E-01,E-02"]);
}

#[test]
fn an_unknown_name_is_an_error_that_suggests_a_similar_one() {
    let run = one_roll(with_journal(JOURNAL), "2026-11-12").args(["--bath", "fix-b"]);
    refused(&run, 2, &["there is no bath 'fix-b' in this darkroom", "did you mean fix-a?"]);
    let run = one_roll(darkroom(), "2026-11-12").args(["--label", "E-01", "--backlog", "autunm"]);
    refused(&run, 2, &["there is no backlog 'autunm' in the darkroom of journal", "did you mean autumn?"]);
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
    refused(&run, 2, &["there are 2 journals: newer, older", "--journal newer"]);
    one_roll(run.again(), "2026-11-12").args(["--journal", "older.wet"]).succeeds();
}

#[test]
fn more_labels_than_rolls_are_refused() {
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
    let (_, text) = added(&run);
    assert!(text.ends_with(&format!("    note      \"{note}\"\n}}\n")), "{text}");
    assert!(run.again().args(["check", "journal"]).succeeds().starts_with("nothing to fix"));
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
        said.split_once("\n    date ").unwrap().1.split_once('\n').unwrap().0.to_owned()
    };
    assert!(name("west+12") < name("east-14"));
}
