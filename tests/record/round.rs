//! `baths`, `plan` and `card` count a recorded session, for every date and folder. The counts are worked by hand.

use std::fs;

use super::{DARKROOM, JOURNAL, added, darkroom, evening, one_roll, refused, two_rolls};
use crate::program::Run;
use crate::writers::names;

/// The shelf of `start`: eleven rolls of 120; fixer for 1.5 l at ten rolls a litre, which is 15 rolls, and stop for
/// 1.5 l at twelve, which is 18.
fn jetty() -> Run {
    let run = Run::new().args(["start", "shelf"]);
    run.succeeds();
    run.again().below("shelf")
}

fn recorded(run: Run, labels: &str, date: &str) -> Run {
    let run = run.again().args(["record", "jetty-400-first", "--at", "21C", "--rolls", "2x120"]);
    run.args(["--tank", "two-reel", "--label", labels, "--date", date])
}

/// What `baths` says of a bottle: what it treated of how much, and what is left.
fn bottle(run: Run, on: &str, name: &str) -> (Run, String) {
    let run = run.again().args(["baths", "--on", on]);
    let output = run.succeeds();
    let row = output.lines().find(|line| line.starts_with(&format!("{name} "))).unwrap();
    let words: Vec<&str> = row.split_whitespace().collect();
    (run, words[4..8].join(" "))
}

/// What the head of a plan says of the rolls.
fn progress(run: Run) -> (Run, String) {
    let run = run.again().args(["plan", "jetty", "--at", "21C", "--tank", "two-reel"]);
    let output = run.succeeds();
    let mut parts = output.lines().flat_map(|line| line.split(" · "));
    let line = parts.find(|part| part.contains("developed")).unwrap().to_owned();
    (run, line)
}

/// What a card says of its fixer's bottle.
fn of_fixer(run: Run, date: &str) -> (Run, String) {
    let run = run.again().args(["card", "jetty-400-first", "--at", "21C", "--rolls", "2x120"]);
    let run = run.args(["--tank", "two-reel", "--date", date]);
    let output = run.succeeds().split_whitespace().collect::<Vec<_>>().join(" ");
    let (_, from) = output.split_once("from fix-a at 21 °C: ").unwrap();
    let told = from.split_once(" after tonight").unwrap().0.to_owned();
    (run, told)
}

#[test]
fn a_session_counts_in_baths_plan_and_card_until_it_is_retracted() {
    let run = recorded(jetty(), "J-01,J-02", "2026-11-12");
    assert!(run.succeeds().contains("    bath      stop-a\n    bath      fix-a\n"));
    let (run, fixer) = bottle(run, "2026-11-12", "fix-a");
    assert_eq!(fixer, "2 of 15 13");
    let (run, stop) = bottle(run, "2026-11-12", "stop-a");
    assert_eq!(stop, "2 of 18 16");
    // The evening before it had treated nothing.
    let (run, before) = bottle(run, "2026-11-11", "fix-a");
    assert_eq!(before, "0 of 15 15");
    let (run, rolls) = progress(run);
    assert_eq!(rolls, "2 of 11 rolls developed, 9 left");
    let (run, told) = of_fixer(run, "2026-11-13");
    assert_eq!(told, "2 rolls treated by 2026-11-13, 11 rolls left");
    let run = run.again().args(["record", "--undo", "--because", "the film was put off"]);
    run.succeeds();
    let (run, fixer) = bottle(run, "2026-11-12", "fix-a");
    assert_eq!(fixer, "0 of 15 15");
    let (run, told) = of_fixer(run, "2026-11-13");
    assert_eq!(told, "0 rolls treated by 2026-11-13, 13 rolls left");
    let run = run.again().args(["plan", "jetty", "--at", "21C", "--tank", "two-reel"]);
    assert!(!run.succeeds().contains("developed,"));
    // The same evening can be recorded once more.
    let run = recorded(run, "J-01,J-02", "2026-11-12");
    assert!(!run.succeeds().contains("doubt"));
}

/// A night that goes on past midnight is the day's on which it began, whatever day it is by then: two tanks of one
/// night count as one day's, and the bottle has treated both.
#[test]
fn a_session_past_midnight_is_recorded_on_the_given_date() {
    let run = recorded(jetty(), "J-01,J-02", "2026-11-13");
    run.succeeds();
    let run = recorded(run, "J-03,J-04", "2026-11-12");
    assert!(run.succeeds().contains(" {\n    date      2026-11-12\n"));
    let (run, told) = of_fixer(run, "2026-11-12");
    assert_eq!(told, "2 rolls treated by 2026-11-12, 11 rolls left");
    let (run, told) = of_fixer(run, "2026-11-13");
    assert_eq!(told, "4 rolls treated by 2026-11-13, 9 rolls left");
    let (_, rolls) = progress(run);
    assert_eq!(rolls, "4 of 11 rolls developed, 7 left");
}

/// With a second backlog whose labels begin as those of the first do.
fn two_backlogs() -> Run {
    let second = "\nbacklog winter {\n    roll      \"E-03\" 120 of estuary-400\n    roll      \"W-01\" 120 of estuary-400\n}\n";
    darkroom().file("darkroom.wet", format!("{DARKROOM}{second}"))
}

fn labelled(run: Run, labels: &str) -> Run {
    let rolls = format!("{}x120", labels.split(',').count());
    evening(run.again()).args(["--rolls", &rolls, "--label", labels, "--date", "2026-11-12"])
}

#[test]
fn the_only_backlog_with_a_label_is_used() {
    let run = labelled(two_backlogs(), "E-01,E-02");
    assert!(run.succeeds().contains("    backlog   autumn\n"));
    let run = labelled(run, "W-01");
    let output = run.succeeds();
    assert!(
        output.contains("    backlog   winter\n")
            && output.ends_with("left in 'winter': E-03 (1 of 2 rolls)\n"),
        "{output}"
    );
}

#[test]
fn a_label_in_several_backlogs_is_an_error() {
    let run = labelled(two_backlogs(), "E-03");
    refused(&run, 2, &["2 backlogs have some of these labels: autumn, winter", "--backlog autumn"]);
    let run = labelled(run, "E-03").args(["--backlog", "winter"]);
    assert!(run.succeeds().ends_with("left in 'winter': W-01 (1 of 2 rolls)\n"));
}

#[test]
fn record_says_that_no_backlog_has_a_label() {
    let run = labelled(darkroom(), "gate");
    let output = run.succeeds();
    assert!(output.contains("    slot      1 \"gate\" 120\n") && !output.contains("backlog   "), "{output}");
    assert!(output.ends_with("\nno backlog of this darkroom has these labels\n"), "{output}");
}

#[test]
fn a_note_is_recorded_letter_for_letter() {
    let notes =
        ["the thermometer’s half a degree low", "rinsed twice 🎞️🌊", "\\n is no line # nor a comment"];
    let run = notes.iter().fold(one_roll(darkroom(), "2026-11-12"), |run, note| run.args(["--note", note]));
    let (_, text) = added(&run);
    let lines: String = notes.iter().map(|note| format!("    note      \"{note}\"\n")).collect();
    assert!(text.ends_with(&format!("{lines}}}\n")), "{text}");
    let run = run.again().args(["check", "journal"]);
    assert!(run.succeeds().starts_with("nothing to fix"));
    assert!(run.again().args(["tidy", "--dry", "journal"]).succeeds().starts_with("nothing to tidy"));
}

/// A journal in the folder of the call is preferred, even if it is empty; others of its root are unchanged.
#[test]
fn the_journal_of_the_current_folder_is_preferred() {
    let other = JOURNAL.replace("\"dark", "\"../dark");
    let run =
        darkroom().file("logs/journal.wet", &other).file("logs/older.wet", &other).file(".git/HEAD", "");
    let run = two_rolls(run.file("journal.wet", "wetside 1\n"));
    let (session, _) = added(&run);
    assert_eq!(names(&run.folder().join("logs")), ["journal.wet", "older.wet"]);
    let run = run.again().args(["record", "--undo", "--because", "miscounted"]);
    assert!(added(&run).1.ends_with(&format!("\nretract {session} because \"miscounted\"\n")));
}

/// The only journal of the root is in another folder, but this one has bottles.
#[test]
fn a_folder_with_bottles_has_its_own_journal() {
    let up = |text: &str| text.replace("use \"", "use \"../");
    let run = Run::new().folder_of_repo("recipes").file(".git/HEAD", "");
    let session = JOURNAL.replace("use \"darkroom.wet\"", "# ");
    let run = run.file("logs/winter.wet", session).file("cellar/darkroom.wet", up(DARKROOM)).below("cellar");
    let run = run.args([
        "record",
        "../recipes/estuary-400-mq.wet",
        "estuary-400-mq",
        "--at",
        "21.5C",
        "--rolls",
        "1x120",
    ]);
    let run = run.args(["--date", "2026-11-12"]);
    run.succeeds();
    assert_eq!(names(&run.folder().join("cellar")), ["darkroom.wet", "journal"]);
    assert_eq!(names(&run.folder().join("logs")), ["winter.wet"]);
}

/// Without git each folder is a root of its own, so a journal elsewhere has another darkroom.
#[test]
fn a_journal_in_another_folder_counts_only_below_the_same_root() {
    let run = darkroom().file("logs/old.wet", "wetside 1\n");
    let run = two_rolls(run).args(["--journal", "logs/winter.wet"]);
    let words = [
        "there is no bath 'fix-a' in the darkroom of logs/winter",
        "name a journal in its folder: --journal FILE",
    ];
    refused(&run, 2, &words);
    assert!(!run.folder().join("logs/winter").exists());
    fs::create_dir(run.folder().join(".git")).unwrap();
    run.succeeds();
    let run = run.again().args(["baths", "--on", "2026-11-12"]);
    assert!(run.succeeds().contains("2 of 25  23"));
}
