//! `record`: the file that it adds, the doubts in it, the calls that it refuses, and that nothing is lost if it is
//! killed, meets a second writer or finds a full disk.

mod corrected;
mod doubted;
#[cfg(unix)]
mod locked;
mod merged;
mod refused;
mod round;
mod true_times;
mod undone;
#[cfg(unix)]
mod whole;

use std::collections::BTreeMap;
use std::fs;

use crate::program::Run;
use crate::writers::{JOURNAL, names};

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

/// The session of two rolls of 12 November, where NAME is its name; the fingerprint is that of the card in the README.
const TWO_ROLLS: &str = "\
session NAME {
    date      2026-11-12
    recipe    estuary-400-mq, fingerprint \"W7KXXET190W57CEQJC4BDZ9ES457GXYPFYJ8W10T7YMNDT68NY3GG\"
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

/// With the single file of an older journal, in which these bytes stand.
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

/// The names and the bytes of the files below a folder named `journal`, and of an older journal beside it.
fn journal(run: &Run) -> BTreeMap<String, Vec<u8>> {
    let folder = run.folder();
    let below = fs::read_dir(folder.join("journal")).into_iter().flatten();
    let below = below.map(|entry| entry.unwrap().path()).chain([folder.join("journal.wet")]);
    let read = below.filter_map(|path| Some((path.file_name()?.to_str()?.to_owned(), fs::read(&path).ok()?)));
    read.collect()
}

/// The name of the file that a call has added, and its text. Every other file is what it was.
#[track_caller]
fn added(run: &Run) -> (String, String) {
    let before = journal(run);
    let said = run.succeeds();
    let mut after = journal(run);
    let path = said.strip_prefix("recorded in journal/").and_then(|rest| rest.split_once(":\n")).unwrap().0;
    let text = String::from_utf8(after.remove(path).unwrap()).unwrap();
    assert_eq!(after, before, "{run} changed another file");
    (path.strip_suffix(".wet").unwrap().to_owned(), text)
}

/// A refusal: this status, these words, and a journal that is what it was.
#[track_caller]
fn refused(run: &Run, status: i32, words: &[&str]) {
    let before = journal(run);
    let (stdout, stderr) = run.fails(status);
    assert_eq!(stdout, "");
    let flat = stderr.lines().map(|line| line.trim_matches([' ', '|', '='])).collect::<Vec<_>>().join(" ");
    for word in words {
        assert!(flat.contains(word), "{run} does not say {word:?}:\n{stderr}");
    }
    assert_eq!(journal(run), before, "{run} wrote to the journal");
}

/// Whether a name is that day and four letters or digits.
fn is_named(name: &str, day: &str) -> bool {
    let rest = name.strip_prefix(day).and_then(|rest| rest.strip_prefix('-')).unwrap_or("");
    rest.len() == 4 && rest.bytes().all(|letter| letter.is_ascii_lowercase() || letter.is_ascii_digit())
}

#[test]
fn a_session_is_a_file_of_its_own_named_by_its_day() {
    let run = two_rolls(darkroom());
    let (name, text) = added(&run);
    assert!(is_named(&name, "2026-11-12"), "{name}");
    assert_eq!(text, format!("wetside 2\n\nuse \"../darkroom.wet\"\n\n{}", TWO_ROLLS.replace("NAME", &name)));
    assert_eq!(names(run.folder()), ["darkroom.wet", "journal", "recipes"]);
    let run = run.again().args(["check"]);
    assert!(run.succeeds().starts_with("nothing to fix"));
    assert!(run.again().args(["tidy", "--dry"]).succeeds().starts_with("nothing to tidy"));
}

#[test]
fn record_prints_the_session_and_what_is_left() {
    let run = two_rolls(darkroom());
    let said = run.succeeds();
    let (name, _) = journal(&run).pop_first().unwrap();
    let block = TWO_ROLLS.replace("NAME", name.strip_suffix(".wet").unwrap());
    assert!(said.starts_with(&format!("recorded in journal/{name}:\n\n{block}")), "{said}");
    assert!(said.ends_with("left in 'autumn': E-03 (1 of 3 rolls)\n"), "{said}");
}

#[test]
fn a_session_without_names_imports_nothing() {
    let (name, text) = added(&one_roll(Run::new().folder_of_repo("recipes"), "2026-11-12"));
    assert!(text.starts_with(&format!("wetside 2\n\nsession {name} {{\n")), "{text}");
}

/// The older journal is read and never written to.
#[test]
fn a_session_is_a_file_beside_an_older_journal() {
    let crlf = format!("\u{feff}{}", JOURNAL.trim_end().replace('\n', "\r\n"));
    for bytes in [JOURNAL, &crlf, ""] {
        let bytes = if bytes.is_empty() { "wetside 1\n" } else { bytes };
        let (name, text) = added(&two_rolls(with_journal(bytes)));
        assert!(text.ends_with(&TWO_ROLLS.replace("NAME", &name)), "{text}");
    }
    // Its sessions count.
    let older = JOURNAL.replace("slot 1 120", "backlog autumn\n  slot 1 \"E-01\" 120");
    let (_, text) = added(&two_rolls(with_journal(older)));
    assert!(text.contains("slot      1 \"E-01\" 120 doubt \"developed on 2026-11-10\"\n"), "{text}");
}

#[test]
fn the_sessions_of_a_day_have_different_names() {
    let mut run = with_journal(JOURNAL);
    for _ in 0..5 {
        run = one_roll(run.again(), "2026-11-10");
        added(&run);
    }
    assert_eq!(journal(&run).len(), 1 + 5);
    run.again().args(["check"]).succeeds();
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
    let (_, text) = added(&run);
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
    let (_, text) = added(&run);
    assert!(text.contains("    step      develop second at 21 C\n    volume    591.471 ml\n"), "{text}");
    assert!(run.again().args(["check", "journal"]).succeeds().starts_with("nothing to fix"));
}

/// A name with a prefix is one of another file; the session has the bath's own name.
#[test]
fn a_bath_is_recorded_with_its_own_name() {
    let journal_text = JOURNAL.replace("use \"darkroom.wet\"", "use \"darkroom.wet\" as mine");
    for named in ["fix-a", "mine/fix-a"] {
        let run = one_roll(with_journal(&journal_text), "2026-11-12").args(["--bath", named]);
        let (_, text) = added(&run);
        assert!(
            text.contains("use \"../darkroom.wet\"\n") && text.contains("    bath      fix-a\n"),
            "{text}"
        );
    }
}

/// The rolls and the bottles are in two files, and both declare a film of one name.
#[test]
fn files_with_the_same_names_are_imported_with_prefixes() {
    let film = "film spare {\n    speed     ISO 100\n}\n";
    let (bath, backlog) = DARKROOM.split_at(DARKROOM.find("backlog autumn").unwrap());
    let backlog = format!("wetside 1\n\nuse \"recipes/films.wet\"\n\n{film}\n{backlog}");
    let run = darkroom().file("darkroom.wet", format!("{bath}{film}")).file("backlog.wet", backlog);
    let (_, text) = added(&two_rolls(run));
    for line in
        ["use \"../darkroom.wet\" as file-2\n", "    backlog   autumn\n", "    bath      file-2/fix-a\n"]
    {
        assert!(text.contains(line), "{text}");
    }
}

#[test]
fn a_named_journal_may_be_new_and_in_another_folder() {
    let run = two_rolls(
        darkroom().file("logs/old.wet", JOURNAL.replace("\"dark", "\"../dark")).file(".git/HEAD", ""),
    );
    for (path, folder) in [("logs/winter.wet", "winter"), ("logs/winter", "winter"), ("logs/old.wet", "old")]
    {
        let run = one_roll(run.again(), "2026-11-12").args(["--journal", path]);
        run.succeeds();
        assert!(run.folder().join("logs").join(folder).is_dir(), "{path}");
    }
    assert_eq!(names(&run.folder().join("logs/winter")).len(), 2);
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
