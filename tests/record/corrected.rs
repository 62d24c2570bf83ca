//! `record --correct` adds a file that retracts a session and states it again. Nothing is erased.

use super::{DARKROOM, JOURNAL, added, darkroom, evening, journal, refused, two_rolls, with_journal};
use crate::program::Run;

fn correct(run: &Run, args: &[&str]) -> Run {
    args.iter().fold(run.again().args(["record", "--correct"]), |run, arg| run.arg(arg))
}

fn labelled(run: Run, labels: &str) -> Run {
    let rolls = format!("{}x120", labels.split(',').count());
    evening(run).args(["--rolls", &rolls, "--label", labels, "--date", "2026-11-12", "--bath", "fix-a"])
}

#[test]
fn a_wrong_label_is_corrected_in_a_new_file() {
    let run = labelled(darkroom(), "E-01,E-99");
    let (first, text) = added(&run);
    let run = correct(&run, &["E-99=E-02"]);
    let (second, again) = added(&run);
    let wanted =
        text.replace("\"E-99\" 120 doubt \"not in the backlog\"", "\"E-02\" 120").replace(&first, &second);
    let retract = format!(
        "use \"{first}.wet\"\nuse \"../darkroom.wet\"\n\nretract {first} because \"E-99 was E-02\"\n"
    );
    assert_eq!(again, wanted.replace("use \"../darkroom.wet\"\n", &retract));
    assert!(run.again().args(["check", "--fail-on", "advice"]).succeeds().starts_with("nothing to fix"));
    assert!(run.again().args(["tidy", "--dry"]).succeeds().starts_with("nothing to tidy"));
    // The bottle has treated the two rolls once.
    assert!(run.again().args(["baths", "--on", "2026-11-12"]).succeeds().contains("2 of 25  23"));
}

/// The session of an older journal keeps its comments there, and its other lines here.
#[test]
fn a_session_of_an_older_journal_is_corrected() {
    let older =
        JOURNAL.replace("slot 1 120", "backlog autumn\n  note \"cold\"   # cellar\n  slot 1 \"E-01\" 120");
    let (name, text) = added(&correct(&with_journal(&older), &["E-01=E-03", "--because", "a slip"]));
    let block = "    date      2026-11-10\n    recipe    estuary-400-mq, fingerprint \"358f7dfb\"\n    backlog   autumn\n    note      \"cold\"\n    slot      1 \"E-03\" 120\n";
    let uses =
        "use \"../journal.wet\"\nuse \"../darkroom.wet\"\n\nretract evening-2026-11-10 because \"a slip\"\n";
    assert_eq!(text, format!("wetside 2\n\n{uses}\nsession {name} {{\n{block}}}\n"));
}

#[test]
fn a_wrong_film_in_the_backlog_is_named_with_its_line() {
    let other = DARKROOM.replace("\"E-02\" 120 of estuary-400", "\"E-02\" 120 of saltmarsh-100");
    let run = two_rolls(darkroom().file("darkroom.wet", other));
    run.succeeds();
    let run = correct(&run, &["E-02", "--film", "estuary-400"]);
    let said = run.succeeds();
    assert!(said.contains("    slot      2 \"E-02\" 120\n"), "{said}");
    assert!(said.contains("    note      \"E-02 is estuary-400, whatever the backlog says\"\n"), "{said}");
    let line = "correct the backlog too, darkroom.wet:14: roll      \"E-02\" 120 of estuary-400\n";
    assert!(said.ends_with(line), "{said}");
    refused(
        &correct(&run, &["E-02", "--film", "estuary-40"]),
        2,
        &["no film 'estuary-40'", "did you mean estuary-400?"],
    );
}

#[test]
fn a_wrong_bottle_is_corrected() {
    let bottle =
        "\nbath fix-b {\n    in        rapid-fix 1+4\n    volume    1 l\n    mixed     2026-11-11\n}\n";
    let run = labelled(darkroom().file("darkroom.wet", format!("{DARKROOM}{bottle}")), "E-01");
    run.succeeds();
    let (_, text) = added(&correct(&run, &["fix-a=fix-b"]));
    assert!(text.contains("    bath      fix-b\n") && !text.contains("    bath      fix-a\n"), "{text}");
    refused(&correct(&run, &["fix-b=fix-c"]), 2, &["there is no bath 'fix-c'", "did you mean fix-"]);
}

/// The right label may be in doubt too.
#[test]
fn a_correction_is_recorded_with_its_own_doubt() {
    let run = labelled(darkroom(), "E-01,E-99");
    run.succeeds();
    let run = correct(&run, &["E-99=E-98"]);
    let said = run.succeeds();
    assert!(said.contains("slot      2 \"E-98\" 120 doubt \"not in the backlog\"\n"), "{said}");
    assert!(said.contains("if the label was wrong:   wetside record --correct E-98="), "{said}");
}

#[test]
fn a_correction_that_means_no_session_is_refused() {
    let run = labelled(darkroom(), "E-01,E-99");
    run.succeeds();
    refused(&correct(&run, &["E-03=E-02"]), 2, &["no session of journal has a roll or a bath 'E-03'"]);
    refused(&correct(&run, &["E-99"]), 2, &["'E-99' does not say what is right", "--correct E-01=E-03"]);
    refused(&correct(&run, &["E-99=E-02", "--film", "estuary-400"]), 2, &["--film needs a label alone"]);
    refused(&run.again().args(["record", "--film", "estuary-400"]), 2, &["--correct"]);
}

/// Two sessions have the label; the one in which it is in doubt is meant.
#[test]
fn the_session_with_the_doubt_is_corrected() {
    let run = labelled(darkroom(), "E-01");
    let (first, _) = added(&run);
    let run = labelled(run.again(), "E-01,E-02");
    let (second, _) = added(&run);
    let (_, text) = added(&correct(&run, &["E-01=E-03"]));
    assert!(text.contains(&format!("retract {second} because")) && !text.contains(&first), "{text}");
    assert!(run.again().args(["check", "--fail-on", "advice"]).succeeds().starts_with("nothing to fix"));
    assert_eq!(journal(&run).len(), 3);
}
