//! `record` refuses no fact: it marks what contradicts the darkroom with a doubt, and prints the command that corrects
//! it. The counts are worked by hand.

use super::{DARKROOM, JOURNAL, added, darkroom, evening, journal, one_roll, two_rolls, with_journal};
use crate::program::Run;

/// A darkroom in which a line has other words.
fn with(old: &str, new: &str) -> Run {
    assert!(DARKROOM.contains(old));
    darkroom().file("darkroom.wet", DARKROOM.replace(old, new))
}

/// The file of a call, and what the call says below the session.
#[track_caller]
fn recorded(run: &Run) -> (String, String) {
    let said = run.succeeds();
    let said = said.split_once("\n}\n").unwrap().1.to_owned();
    let file = journal(run).into_iter().find(|(name, _)| name != "journal.wet").unwrap().1;
    (String::from_utf8(file).unwrap(), said)
}

#[track_caller]
fn doubted(run: &Run, line: &str, said: &[&str]) {
    let (text, told) = recorded(run);
    assert!(text.contains(&format!("\n    {line}\n")), "{text}");
    for line in said {
        assert!(told.contains(&format!("{line}\n")), "{run} does not say {line}:\n{told}");
    }
    // What is in doubt is advice.
    let checked = run.again().args(["check", "--fail-on", "warning"]);
    checked.succeeds();
    checked.again().args(["baths", "--on", "2026-11-20"]).succeeds();
}

fn labelled(run: Run, labels: &str) -> Run {
    let rolls = format!("{}x120", labels.split(',').count());
    evening(run).args(["--rolls", &rolls, "--label", labels, "--date", "2026-11-12"])
}

#[test]
fn a_roll_of_another_film_is_in_doubt() {
    let other = "\"E-02\" 120 of saltmarsh-100";
    let run = two_rolls(with("\"E-02\" 120 of estuary-400", other));
    doubted(
        &run,
        "slot      2 \"E-02\" 120 doubt \"saltmarsh-100 in the backlog\"",
        &[
            "recorded, with a doubt: slot 2 \"E-02\" is Saltmarsh 100 in 'autumn', developed here as Estuary 400",
            "if the label was wrong:   wetside record --correct E-02=E-03",
            "if the list was wrong:    wetside record --correct E-02 --film estuary-400",
        ],
    );
}

#[test]
fn a_roll_of_another_index_is_in_doubt() {
    let run = two_rolls(with("\"E-02\" 120 of estuary-400", "\"E-02\" 120 of estuary-400 index 1600"));
    let line = "slot      2 \"E-02\" 120 doubt \"index 1600 in the backlog\"";
    doubted(&run, line, &["if the label was wrong:   wetside record --correct E-02=E-03"]);
}

#[test]
fn an_unknown_label_is_in_doubt() {
    let run = labelled(darkroom(), "E-01,E-22");
    doubted(
        &run,
        "slot      2 \"E-22\" 120 doubt \"not in the backlog\"",
        &[
            "recorded, with a doubt: slot 2 \"E-22\" is not in 'autumn'",
            "if the label was wrong:   wetside record --correct E-22=E-02",
        ],
    );
    let run = labelled(darkroom(), "E-99").args(["--backlog", "autumn"]);
    doubted(&run, "slot      1 \"E-99\" 120 doubt \"not in the backlog\"", &[]);
}

#[test]
fn a_roll_of_another_format_is_in_doubt() {
    let run = two_rolls(with("\"E-02\" 120 of", "\"E-02\" 135 of"));
    doubted(
        &run,
        "slot      2 \"E-02\" 120 doubt \"135 in the backlog\"",
        &["left in 'autumn': E-03 (1 of 3 rolls)"],
    );
}

#[test]
fn a_roll_before_the_day_it_was_shot_is_in_doubt() {
    let run = two_rolls(with("\"E-02\" 120 of estuary-400", "\"E-02\" 120 of estuary-400 shot 2026-11-13"));
    let said =
        "recorded, with a doubt: slot 2 \"E-02\" was shot on 2026-11-13, after this session of 2026-11-12";
    doubted(&run, "slot      2 \"E-02\" 120 doubt \"shot on 2026-11-13\"", &[said]);
}

#[test]
fn a_roll_twice_in_one_session_is_in_doubt() {
    let run = labelled(darkroom(), "E-01,E-01");
    doubted(&run, "slot      2 \"E-01\" 120 doubt \"twice in this session\"", &[]);
}

#[test]
fn a_roll_that_was_developed_before_is_in_doubt() {
    let older = JOURNAL.replace("slot 1 120", "backlog autumn\n  slot 1 \"E-01\" 120");
    doubted(
        &labelled(with_journal(older), "E-01"),
        "slot      1 \"E-01\" 120 doubt \"developed on 2026-11-10\"",
        &[
            "recorded, with a doubt: slot 1 \"E-01\" was developed on 2026-11-10, in 'evening-2026-11-10'",
            "if the label was wrong:   wetside record --correct E-01=E-02",
            "if that session was wrong: wetside record --undo evening-2026-11-10 --because \"it was another roll\"",
        ],
    );
}

#[test]
fn a_bath_before_mixing_or_after_discarding_is_in_doubt() {
    let run = one_roll(with_journal(JOURNAL), "2026-11-01").args(["--bath", "fix-a"]);
    doubted(
        &run,
        "bath      fix-a doubt \"mixed on 2026-11-02\"",
        &["if it was another bottle: wetside record --correct fix-a=NAME"],
    );
    let run = two_rolls(with("mixed     2026-11-02", "mixed     2026-11-02\n    discarded 2026-11-11"));
    doubted(&run, "bath      fix-a doubt \"poured away on 2026-11-11\"", &[]);
}

/// The fixer keeps three months: from 2 November to 2 February.
#[test]
fn a_bath_past_its_keeping_time_is_in_doubt() {
    let run = one_roll(darkroom(), "2027-02-03").args(["--bath", "fix-a"]);
    let (text, said) = recorded(&run);
    assert!(text.contains("    bath      fix-a doubt \"kept until 2027-02-02\"\n"), "{text}");
    assert!(said.contains("recorded, with a doubt: the bath 'fix-a' kept until 2027-02-02\n"), "{said}");
    let (text, _) = recorded(&one_roll(darkroom(), "2027-02-02").args(["--bath", "fix-a"]));
    assert!(!text.contains("doubt"), "{text}");
}

/// Ten rolls per litre: 500 ml treat five rolls. After four of them, two more make six.
#[test]
fn an_exhausted_bath_is_in_doubt() {
    let small = "volume    500 ml";
    let older =
        JOURNAL.replace("slot 1 120", "slot 1 120\n slot 2 120\n slot 3 120\n slot 4 120\n bath fix-a");
    let run = with("volume    2.5 l", small).file("journal.wet", older);
    let run = evening(run).args(["--rolls", "2x120", "--bath", "fix-a", "--date", "2026-11-12"]);
    doubted(&run, "bath      fix-a doubt \"treated 6 of 5 rolls\"", &[]);
    let one = one_roll(run.again(), "2026-11-13").args(["--bath", "fix-a"]);
    let (_, text) = added(&one);
    assert!(text.contains("doubt \"treated 7 of 5 rolls\""), "{text}");
}

/// The recipe has no time at 30 °C, and the film was developed all the same.
#[test]
fn an_evening_without_a_card_is_recorded_with_a_note() {
    let run = darkroom().args(["record", "estuary-400-mq", "--at", "30C", "--rolls", "1x120"]);
    let run = run.args(["--tank", "tall-five", "--date", "2026-11-12"]);
    let (text, said) = recorded(&run);
    assert!(text.contains("    at        30 C\n") && text.contains("    note      \"in doubt: "), "{text}");
    assert!(said.contains("recorded, with a doubt: "), "{said}");
}
