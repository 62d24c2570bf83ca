//! `tidy --edition 2`: files are brought over with every fingerprint and every card as it was, or not at all.

use std::collections::BTreeMap;
use std::fs;

use wetside::model::Fingerprint;
use wetside::source::MemoryFiles;
use wetside::tidy::{Raised, raise};

use super::{comments, root, texts};
use crate::first_edition::{evenings, first_shelf};
use crate::kitchen::Kitchen;
use crate::program::Run;

/// A base whose development time holds for every film, and a recipe for one; with comments and a rough layout.
const BASE: &str = "# the base\nwetside   1   # first\n\nrecipe base {  # no film\n  develop {\n    in  developer 1+1\n\
                    \ttime 8:00\n    between 18 C and 22 C\n    agitate continuous\n  }\n  fix {\n    in fixer 1+4\n    \
                    time 5:00\n    agitate continuous\n  }\n  wash {\n    soak 1:00 x 4\n\
                    \tlight safe\n  }\n}\n";
const CHILD: &str =
    "wetside 1\n\nuse \"base.wet\"\nrecipe child from base {\n    film      ebb\n    index     100\n}\n";
const SHELF: &str = "\nfilm ebb {\n    speed     ISO 100\n}\n\nsolution developer {\n    role      developer\n    needs     \
                     100 ml per roll\n}\n\nsolution fixer {\n    role      fixer\n    contains  sodium-thiosulfate\n}\n";

fn read(run: &Run, path: &str) -> String {
    fs::read_to_string(run.folder().join(path)).unwrap()
}

fn base() -> Run {
    Run::new().file("base.wet", format!("{BASE}{SHELF}")).file("child.wet", CHILD)
}

/// The text brought over.
#[track_caller]
pub(crate) fn brought_over(text: &str) -> Raised {
    let texts = [("trial.wet".to_owned(), text.to_owned())];
    let result = raise(&texts, &MemoryFiles::default()).pop().unwrap();
    result.unwrap_or_else(|stays| panic!("{:?}\n{text}", stays.why))
}

fn fingerprints(text: &str) -> Vec<(String, Fingerprint)> {
    let kitchen = Kitchen::of(text);
    kitchen.shelf.recipes.iter().map(|recipe| (recipe.name.clone(), Fingerprint::of(recipe))).collect()
}

/// The fingerprint is in the JSON of each card.
#[test]
fn the_first_editions_recipes_are_brought_over_with_every_card_as_it_was() {
    let run = first_shelf();
    let folder = run.folder().join("tests/edition-1");
    let cards = || -> Vec<String> {
        let card = |call: &str| call.split(' ').fold(run.again(), Run::arg).args(["--as", "json"]).succeeds();
        // One evening of each recipe: the first of its four.
        evenings().iter().step_by(4).map(|(call, _)| card(call)).collect()
    };
    let (before, old) = (cards(), texts(&folder));
    assert_eq!(
        run.again().args(["tidy", "--edition", "2"]).succeeds().lines().last(),
        Some("24 of 24 files tidied")
    );
    assert_eq!(cards(), before);
    let new = texts(&folder);
    let recipes = new.iter().filter(|(path, _)| path.extension().is_some_and(|ending| ending == "wet"));
    let mut changed: BTreeMap<(&str, &str), usize> = BTreeMap::new();
    for (path, text) in recipes {
        assert_eq!(comments(text), comments(&old[path]));
        for (then, now) in old[path].lines().zip(text.lines()).filter(|(then, now)| then != now) {
            *changed.entry((then.trim(), now.trim())).or_default() += 1;
        }
        assert_eq!(old[path].lines().count(), text.lines().count());
    }
    // Counted with a search of the files: six lines of `light safe`.
    let expected = [(("light     safe", "light     room"), 6), (("wetside 1", "wetside 2"), 24)];
    assert_eq!(changed, BTreeMap::from(expected));
    assert_eq!(run.again().args(["tidy", "--edition", "2"]).succeeds(), "nothing to tidy in 24 files\n");
    assert_eq!(texts(&folder), new);
}

#[test]
fn published_formulas_and_sequences_are_brought_over() {
    let mut recipes = 0;
    for (path, text) in texts(&root().join("tests/plausible/sound")) {
        let raised = brought_over(&text);
        let (before, after) = (fingerprints(&text), fingerprints(&raised.text));
        assert_eq!(before, after, "{path:?}");
        assert!(raised.text.contains("wetside 2\n") && !raised.text.contains("light     safe"), "{path:?}");
        assert_eq!(brought_over(&raised.text), Raised { text: raised.text.clone(), edits: Vec::new() });
        recipes += before.len();
    }
    assert!(recipes > 3, "{recipes}");
}

#[test]
fn only_the_words_that_edition_2_spells_differently_change() {
    let run = base().args(["tidy", "--edition", "2"]);
    assert_eq!(run.succeeds(), "tidied base.wet\ntidied child.wet\n2 of 2 files tidied\n");
    let new = BASE.replace("wetside   1", "wetside   2").replace("light safe", "light room");
    let new = new.replace("{  # no film\n", "{  # no film\n    film      any\n");
    assert_eq!(read(&run, "base.wet"), format!("{new}{SHELF}"));
    assert_eq!(read(&run, "child.wet"), CHILD.replace("wetside 1", "wetside 2"));
    assert_eq!(run.succeeds(), "nothing to tidy in 2 files\n");
}

/// A recipe of another file inherits the development time of the base, in both editions.
#[test]
fn a_file_alone_is_brought_over_without_harm_to_those_that_use_it() {
    let run = base();
    run.again().args(["tidy", "--edition", "2", "base.wet"]).succeeds();
    assert_eq!(run.again().args(["check"]).ends().0, 0);
    run.again().args(["tidy", "--edition", "2", "child.wet"]).succeeds();
    assert_eq!(run.args(["check"]).ends().0, 0);
}

#[test]
fn the_line_endings_of_a_file_stay_as_they_are() {
    let text = format!("{BASE}{SHELF}").replace('\n', "\r\n");
    let raised = brought_over(&text).text;
    assert_eq!(raised.matches('\n').count(), text.matches('\n').count() + 1);
    assert_eq!(raised.matches("\r\n").count(), raised.matches('\n').count());
}

#[test]
fn a_dry_run_shows_each_line_and_writes_nothing() {
    let run = base().args(["tidy", "--edition", "2", "--dry", "base.wet"]);
    let expected = "base.wet:2:\n- wetside   1   # first\n+ wetside   2   # first\nbase.wet:5:\n+     film      any\nbase.wet:18:\n\
                    - \tlight safe\n+ \tlight room\n1 of 1 file would change; wetside tidy changes them\n";
    assert_eq!(run.fails(1), (expected.to_owned(), String::new()));
    assert_eq!(read(&run, "base.wet"), format!("{BASE}{SHELF}"));
}

#[test]
fn standard_input_is_brought_over_to_standard_output() {
    let run = Run::new().stdin(format!("{BASE}{SHELF}")).args(["tidy", "--edition", "2", "-"]);
    assert_eq!(run.succeeds(), brought_over(&format!("{BASE}{SHELF}")).text);
}

#[test]
fn a_file_without_an_edition_gets_one() {
    let text = SHELF.trim_start();
    assert_eq!(brought_over(text).text, format!("wetside 2\n\n{text}"));
}

/// Fails unless the file stays as it is, and the report has these words.
#[track_caller]
fn stays(text: &str, words: &str) {
    let run = Run::new().file("a.wet", text).args(["tidy", "--edition", "2"]);
    let (_, report) = run.fails(1);
    assert!(report.contains(words), "{report}");
    assert!(report.ends_with("a.wet was not changed: see above\n"), "{report}");
    assert_eq!(read(&run, "a.wet"), text);
}

#[test]
fn a_file_with_a_name_that_edition_2_reserves_stays_and_says_where() {
    stays(
        "wetside 1\n\nsolution used {\n    role      stop\n}\n",
        "in edition 2, 'used' cannot be the name of a solution",
    );
    stays("wetside 1\n\nsolution used {\n    role      stop\n}\n", "at a.wet:3:10");
}

#[test]
fn a_file_with_an_error_stays_and_shows_it() {
    stays("wetside 1\n\nfilm ebb {\n    speed     100\n}\n", "at a.wet:4:15");
    stays("wetside 3\n", "error[later-edition]");
    stays("wetside 1\n\nfilm ebb {\n", "error[unclosed-block]");
}

#[test]
fn a_file_of_edition_1_with_words_of_edition_2_is_brought_over() {
    let text = "wetside 1\n\nagitation long {\n    none\n    stand\n}\n";
    assert_eq!(brought_over(text).text, text.replace("wetside 1", "wetside 2"));
}

/// A paper of edition 2 inherits the time that a base of edition 1 has for everything; `film any` is for films.
#[test]
fn a_file_whose_change_would_break_a_recipe_of_another_file_stays() {
    let paper = "wetside 2\n\nuse \"base.wet\"\n\npaper pearl {\n    source    \"invented\"\n}\n\nrecipe child from base {\n    \
                 paper     pearl\n    index     100\n}\n";
    let run = base().file("child.wet", paper);
    assert_eq!(run.again().args(["check"]).ends().0, 0);
    let (_, report) = run.again().args(["tidy", "--edition", "2"]).fails(1);
    assert!(report.contains("a recipe of another file would not stay as it is"), "{report}");
    assert_eq!(read(&run, "base.wet"), format!("{BASE}{SHELF}"));
}

#[test]
fn there_is_no_other_edition_to_bring_files_over_to() {
    for edition in ["1", "3", "two"] {
        let (_, error) = base().args(["tidy", "--edition", edition]).fails(2);
        assert!(error.contains(&format!("invalid value '{edition}'")), "{error}");
    }
}

#[test]
fn no_example_of_an_error_is_brought_over_with_another_meaning() {
    let mut over = 0;
    for (path, text) in texts(&root().join("tests/faults")) {
        let texts = [("trial.wet".to_owned(), text.clone())];
        let Ok(raised) = raise(&texts, &MemoryFiles::default()).pop().unwrap() else { continue };
        let (before, after) = (fingerprints(&text), fingerprints(&raised.text));
        assert!(before.iter().all(|recipe| after.contains(recipe)), "{path:?}");
        assert_eq!(brought_over(&raised.text).edits, [], "{path:?}");
        over += 1;
    }
    assert!(over > 10, "{over}");
}
