//! `record`: the text that it appends, the calls that it refuses, and that nothing is lost if it is killed, meets a
//! second writer or finds a full disk.

#[cfg(unix)]
mod locked;
mod refused;
mod round;
mod undone;
#[cfg(unix)]
mod whole;

use std::fs;

use crate::program::Run;
use crate::writers::JOURNAL;

/// A darkroom beside the shelf, with a bath of 2 November and a backlog of three rolls.
const DARKROOM: &str = "\
wetside 1

use \"recipes/films.wet\"
use \"recipes/solutions.wet\"

bath fix-a \"Fixer, bottle A\" {
    in        rapid-fix 1+4
    volume    2.5 l
    mixed     2026-11-02
}

backlog autumn \"The estuary in autumn\" {
    roll      \"E-01\" 120 of estuary-400
    roll      \"E-02\" 120 of estuary-400
    roll      \"E-03\" 120 of estuary-400
}
";

/// The journal after two rolls of 12 November; the fingerprint is that of the card in the README.
const TWO_ROLLS: &str = "\
session evening-2026-11-12 {
    date      2026-11-12
    recipe    estuary-400-mq, fingerprint \"358f7dfb\"
    tank      tall-five
    at        21.5 C
    backlog   autumn
    slot      1 \"E-01\" 120
    slot      2 \"E-02\" 120
    bath      fix-a
    note      \"fixer smelled stale\"
}
";

fn darkroom() -> Run {
    Run::new().folder_of_repo("recipes").file("darkroom.wet", DARKROOM)
}

/// With that journal, in which these bytes stand.
fn with_journal(bytes: impl AsRef<[u8]>) -> Run {
    darkroom().file("journal.wet", bytes)
}

fn evening(run: Run) -> Run {
    run.args(["record", "estuary-400-mq", "--at", "21.5C", "--tank", "tall-five"])
}

/// An evening with two rolls of the backlog, in the words of the call.
fn two_rolls(run: Run) -> Run {
    evening(run).args([
        "--rolls",
        "2x120",
        "--label",
        "E-01,E-02",
        "--bath",
        "fix-a",
        "--date",
        "2026-11-12",
        "--note",
        "fixer smelled stale",
    ])
}

/// One roll without a label, on that day.
fn one_roll(run: Run, date: &str) -> Run {
    evening(run).args(["--rolls", "1x120", "--date", date])
}

fn journal(run: &Run) -> String {
    String::from_utf8(fs::read(run.folder().join("journal.wet")).unwrap()).unwrap()
}

/// A refusal: this status, these words, and a journal that is what it was.
#[track_caller]
fn refused(run: &Run, status: i32, words: &[&str]) {
    let path = run.folder().join("journal.wet");
    let before = fs::read(&path).ok();
    let (stdout, stderr) = run.fails(status);
    assert_eq!(stdout, "");
    let flat = stderr.lines().map(|line| line.trim_matches([' ', '|', '='])).collect::<Vec<_>>().join(" ");
    for word in words {
        assert!(flat.contains(word), "{run} does not say {word:?}:\n{stderr}");
    }
    assert_eq!(fs::read(&path).ok(), before, "{run} wrote to the journal");
}

#[test]
fn the_first_session_creates_a_journal_that_imports_its_names() {
    let run = two_rolls(darkroom());
    let said = run.succeeds();
    assert_eq!(journal(&run), format!("wetside 1\n\nuse \"darkroom.wet\"\n\n{TWO_ROLLS}"));
    assert!(said.starts_with(&format!("recorded in journal.wet:\n\n{TWO_ROLLS}")), "{said}");
    assert!(said.ends_with("left in 'autumn': E-03 (1 of 3 rolls)\n"), "{said}");
    let run = run.again().args(["check"]);
    assert!(run.succeeds().starts_with("nothing to fix"));
    assert!(run.again().args(["tidy", "--dry"]).succeeds().starts_with("nothing to tidy"));
}

#[test]
fn a_journal_without_names_imports_nothing() {
    let run = one_roll(Run::new().folder_of_repo("recipes"), "2026-11-12");
    run.succeeds();
    assert!(journal(&run).starts_with("wetside 1\n\nsession evening-2026-11-12 {\n"), "{}", journal(&run));
}

#[test]
fn a_record_keeps_the_old_text_byte_for_byte() {
    let run = two_rolls(with_journal(JOURNAL));
    run.succeeds();
    assert_eq!(journal(&run), format!("{JOURNAL}\n{TWO_ROLLS}"));
}

#[test]
fn a_record_adds_a_missing_line_end_and_no_second_blank_line() {
    let run = two_rolls(with_journal(JOURNAL.trim_end()));
    run.succeeds();
    assert_eq!(journal(&run), format!("{JOURNAL}\n{TWO_ROLLS}"));
    let run = two_rolls(with_journal(format!("{JOURNAL}\n")));
    run.succeeds();
    assert_eq!(journal(&run), format!("{JOURNAL}\n{TWO_ROLLS}"));
}

#[test]
fn line_endings_and_a_byte_order_mark_are_kept() {
    let crlf = |text: &str| text.replace('\n', "\r\n");
    let run = two_rolls(with_journal(format!("\u{feff}{}", crlf(JOURNAL))));
    run.succeeds();
    assert_eq!(journal(&run), format!("\u{feff}{}\r\n{}", crlf(JOURNAL), crlf(TWO_ROLLS)));
}

#[test]
fn the_sessions_of_a_day_are_numbered_with_the_retracted_ones() {
    let mut run = with_journal(JOURNAL);
    for name in ["evening-2026-11-10-2", "evening-2026-11-10-3"] {
        run = one_roll(run.again(), "2026-11-10");
        assert!(run.succeeds().contains(&format!("\nsession {name} {{\n")));
    }
    run = run.again().args(["record", "--undo", "--because", "it was postponed"]);
    assert!(run.succeeds().contains("retract evening-2026-11-10-3 because \"it was postponed\"\n"));
    run = one_roll(run.again(), "2026-11-10");
    assert!(run.succeeds().contains("\nsession evening-2026-11-10-4 {\n"));
}

#[test]
fn temperatures_are_recorded_in_the_scale_of_the_call() {
    let run = darkroom().args([
        "record",
        "estuary-400-mq",
        "--at",
        "70F,wash=68F",
        "--ending",
        "69F",
        "--volume",
        "600ml",
        "--rolls",
        "1x120",
        "--tank",
        "tall-five",
        "--date",
        "2026-11-12",
    ]);
    run.succeeds();
    let text = journal(&run);
    for line in ["at        70 F", "ending    69 F", "step      wash at 68 F", "volume    600 ml"] {
        assert!(text.contains(&format!("    {line}\n")), "{line}: {text}");
    }
    assert!(!text.contains("note"), "{text}");
    assert!(run.again().args(["tidy", "--dry"]).succeeds().starts_with("nothing to tidy"));
}

/// 20 US fluid ounces are 591.470591 ml (29.5735295625 ml each), kept to the microlitre.
#[test]
fn a_named_step_and_a_volume_in_ounces_are_recorded_so_that_they_parse() {
    let run =
        darkroom().args(["record", "ebb-50-reversal", "--at", "20C,develop-second=21C", "--rolls", "1x135"]);
    let run = run.args(["--tank", "twin", "--date", "2026-11-12", "--volume", "20us-fl-oz"]);
    run.succeeds();
    let text = journal(&run);
    assert!(text.contains("    step      develop second at 21 C\n    volume    591.471 ml\n"), "{text}");
    assert!(run.again().args(["check", "journal.wet"]).succeeds().starts_with("nothing to fix"));
}

#[test]
fn a_bath_is_recorded_with_its_name_in_the_journal() {
    let journal_text = JOURNAL.replace("use \"darkroom.wet\"", "use \"darkroom.wet\" as mine");
    for named in ["fix-a", "mine/fix-a"] {
        let run = one_roll(with_journal(&journal_text), "2026-11-12").args(["--bath", named]);
        run.succeeds();
        assert!(journal(&run).contains("    bath      mine/fix-a\n"), "{}", journal(&run));
    }
}

#[test]
fn a_named_journal_may_be_new_and_in_another_folder() {
    let run = two_rolls(
        darkroom().file("logs/old.wet", JOURNAL.replace("\"dark", "\"../dark")).file(".git/HEAD", ""),
    );
    let run = run.args(["--journal", "logs/winter.wet"]);
    run.succeeds();
    let text = fs::read_to_string(run.folder().join("logs/winter.wet")).unwrap();
    assert_eq!(text, format!("wetside 1\n\nuse \"../darkroom.wet\"\n\n{TWO_ROLLS}"));
}

/// With the fixed names and dates of a commit that this test makes; the commit's own name is asked of git.
#[test]
fn the_revision_is_recorded_if_it_has_the_recipe_unchanged() {
    let run = darkroom();
    let git = |args: &[&str]| {
        let mut call = std::process::Command::new("git");
        call.args(["-c", "user.name=n", "-c", "user.email=n@invalid", "-c", "init.defaultBranch=main"]);
        let output = call.args(args).current_dir(run.folder()).output().unwrap();
        assert!(output.status.success(), "{args:?}: {output:?}");
        String::from_utf8(output.stdout).unwrap().trim().to_owned()
    };
    git(&["init", "--quiet"]);
    git(&["add", "recipes"]);
    git(&["commit", "--quiet", "-m", "the shelf"]);
    let commit = git(&["rev-parse", "HEAD"]);
    let run = one_roll(run, "2026-11-12");
    let said = run.succeeds();
    assert!(
        said.contains(&format!("    revision  \"{commit}\"\n")) && !said.contains("no revision"),
        "{said}"
    );
    // A comment does not change the work, but the file differs from that commit.
    let path = run.folder().join("recipes/films.wet");
    fs::write(&path, format!("{}# later\n", fs::read_to_string(&path).unwrap())).unwrap();
    let run = one_roll(run.again(), "2026-11-12");
    let said = run.succeeds();
    assert!(said.contains("no revision: git has no commit with recipes/films.wet as it is now"), "{said}");
    assert!(!said.contains("    revision  "), "{said}");
}
