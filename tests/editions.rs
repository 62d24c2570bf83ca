//! Editions of the language: files of edition 1, 2 and later ones side by side, and the words that only some of them have.

use std::fs;

use wetside::source::Level;

use crate::kitchen::Kitchen;
use crate::program::Run;

/// A recipe that uses the film of another file.
const USER: &str = "wetside 2

use \"films.wet\"

recipe trial from base {
    film      ebb
    index     100
    fix {
        in        fixer 1+4, one-shot
        time      2 x clearing
        agitate   continuous
    }
}
";

/// A file of a later edition: unknown words, a brace too many and a unit with two meanings.
const LATER: &str =
    "wetside 3\n\nuse \"nowhere.wet\"\nfilm ebb {\n    crystals  flat\n    needs 3 oz\n}\n}\n";

/// A solution and a film with names that edition 2 reserves, in a recipe that uses them.
const NAMED: &str = "wetside 1

film any {
    speed     ISO 100
}

solution used \"Used fixer\" {
    role      fixer
    contains  sodium-thiosulfate
    treats    10 rolls per 1 l at 1+4
    keeps     1 months
}

recipe trial {
    film      any
    index     100
    between   18 C and 22 C
    fix {
        in        used 1+4, one-shot
        time      5:00
        agitate   continuous
    }
    wash {
        fills     5, 10, 20 inversions
    }
}
";

fn names(kitchen: &Kitchen) -> Vec<&'static str> {
    kitchen.findings.iter().map(|finding| finding.name).collect()
}

fn errors(kitchen: &Kitchen) -> Vec<&'static str> {
    let errors = kitchen.findings.iter().filter(|finding| finding.level == Level::Error);
    errors.map(|finding| finding.name).collect()
}

#[test]
fn a_file_of_a_later_edition_has_one_finding() {
    assert_eq!(names(&Kitchen::of(LATER)), ["later-edition"]);
}

#[test]
fn what_uses_a_file_of_a_later_edition_is_not_accused() {
    assert_eq!(names(&Kitchen::of_files(USER, &[("films.wet", LATER)])), ["later-edition"]);
}

#[test]
fn a_card_that_needs_a_file_of_a_later_edition_says_only_that() {
    let run = Run::new().file("films.wet", LATER).file("trial.wet", USER);
    let (_, error) = run.args(["card", "trial.wet", "--at", "20C", "--rolls", "1x120"]).fails(1);
    assert_eq!(error.matches("error[").count(), 1, "{error}");
    assert!(error.contains("error[later-edition]: this file is of edition 3"), "{error}");
    assert!(error.contains("at films.wet:1:1"), "{error}");
}

#[test]
fn a_file_of_a_later_edition_is_not_rewritten() {
    let run = Run::new().file("films.wet", LATER);
    for call in [&["tidy", "films.wet"][..], &["check", "--mend", "films.wet"]] {
        let run = call.iter().fold(run.again(), |run, word| run.arg(word));
        assert_eq!(run.ends().0, 1);
        assert_eq!(fs::read_to_string(run.folder().join("films.wet")).unwrap(), LATER);
    }
}

#[test]
fn a_name_that_edition_2_reserves_is_free_in_files_of_the_first() {
    let kitchen = Kitchen::sound(NAMED);
    let recipe = kitchen.recipe();
    assert_eq!(recipe.film.as_ref().map(|film| film.name.as_str()), Some("any"));
    let bath = recipe.steps.first().and_then(|step| step.bath.as_ref()).unwrap();
    assert_eq!(bath.solution.as_ref().map(|solution| solution.name.as_str()), Some("used"));
    let reserved = names(&Kitchen::of(&NAMED.replace("wetside 1", "wetside 2")));
    assert_eq!(reserved.iter().filter(|name| **name == "reserved-name").count(), 2, "{reserved:?}");
}

#[test]
fn a_word_of_edition_2_in_the_place_of_a_name_is_one_error() {
    let film = "film any {\n    speed     ISO 100\n}\n\n";
    let kitchen = Kitchen::of(&NAMED.replace(film, ""));
    assert_eq!(errors(&kitchen), ["newer-edition"]);
    let bath = NAMED.replace("    wash {", "    tone {\n        in        used fix\n        time      1:00\n        agitate   none\n    }\n    wash {");
    assert_eq!(errors(&Kitchen::of(&bath)), ["newer-edition"]);
}

/// The file with words of edition 2, of which one is in the place of a word that only edition 1 has.
fn with_newer(kept: &str) -> String {
    let wash = "    wash {\n        fills     5, 10, 20 inversions\n        light     safe\n        note      \"5\"\" by 7\"\"\"\n";
    let text = NAMED.replace("    wash {\n        fills     5, 10, 20 inversions\n", wash);
    let text = text.replace("film any", "film ebb").replace("film      any", "film      ebb");
    text.replace("used", kept)
}

#[test]
fn mend_raises_the_edition_of_a_file_with_newer_words() {
    let run = Run::new().file("a.wet", with_newer("hypo")).args(["check", "--mend", "a.wet"]);
    let output = run.succeeds();
    let line = "mended a.wet:26:19: '\"5\"\" by 7\"\"\"' is of edition 2, and this file is of edition 1: put 'wetside 2' in \
                the first line, and replace the words of edition 1\n";
    assert!(output.starts_with(line), "{output}");
    let expected = with_newer("hypo").replace("wetside 1", "wetside 2").replace("safe", "room");
    assert_eq!(fs::read_to_string(run.folder().join("a.wet")).unwrap(), expected);
}

#[test]
fn mend_raises_no_edition_that_reserves_a_name_of_the_file() {
    let text = with_newer("used");
    let run = Run::new().file("a.wet", &text).args(["check", "--mend", "a.wet"]);
    let (output, _) = run.fails(1);
    assert!(output.contains("help: put 'wetside 2' in the first line"), "{output}");
    assert_eq!(fs::read_to_string(run.folder().join("a.wet")).unwrap(), text);
}

#[test]
fn a_file_without_an_edition_gets_the_one_that_its_words_need() {
    let without = |text: &str| text.strip_prefix("wetside 1\n\n").unwrap().to_owned();
    let text = without(&with_newer("hypo"));
    let run = Run::new().file("a.wet", text).args(["check", "--mend", "a.wet"]);
    run.succeeds();
    let expected = with_newer("hypo").replace("wetside 1", "wetside 2").replace("safe", "room");
    assert_eq!(fs::read_to_string(run.folder().join("a.wet")).unwrap(), expected);
    let run = Run::new().file("a.wet", without(NAMED)).args(["check", "--mend", "a.wet"]);
    run.succeeds();
    assert_eq!(fs::read_to_string(run.folder().join("a.wet")).unwrap(), NAMED);
}

/// In edition 1 the development time of a base holds for every film, in edition 2 only if the base says `film any`.
#[test]
fn mend_raises_no_edition_that_would_change_what_a_base_means() {
    let recipe = |film: &str| {
        format!(
            "wetside 1\n\nfilm ebb {{\n    speed     ISO 100\n}}\n\nsolution mq {{\n    role      developer\n}}\n\nrecipe base \
             {{\n{film}    note      \"5\"\" by 7\"\"\"\n    develop {{\n        in        mq 1+1\n        time      8:00\n        between   18 C and \
             22 C\n        agitate   continuous\n    }}\n}}\n"
        )
    };
    let certain = |text: &str| {
        let kitchen = Kitchen::of(text);
        let fault = kitchen.findings.iter().find(|finding| finding.name == "newer-edition").unwrap();
        fault.fixes.iter().map(|fix| fix.certain).collect::<Vec<_>>()
    };
    assert_eq!(certain(&recipe("")), [false]);
    assert_eq!(certain(&recipe("    film      ebb\n    index     100\n")), [true]);
    let derived = recipe("    film      ebb\n")
        + "\nrecipe push from base {\n    develop {\n        time      10:00\n    }\n}\n";
    assert_eq!(certain(&derived), [true]);
}

/// The session used two bottles, and this program cannot read which.
#[test]
fn bottles_are_refused_if_a_session_is_of_a_later_edition() {
    let folder = "recipes/estuary-autumn";
    let run = Run::new().folders_of_repo(folder).below(folder);
    let session = run.folder().join(folder).join("journal/2026-11-06-t9wn.wet");
    let text = fs::read_to_string(&session).unwrap();
    fs::write(&session, text.replace("wetside 2", "wetside 3")).unwrap();
    let card = ["card", "tideline-100-autumn", "--at", "21C", "--rolls", "2x120", "--bath", "autumn-fix-b"];
    let (_, error) = run.args(card).args(["--tank", "autumn-five", "--date", "2026-11-16"]).fails(1);
    assert!(error.contains("error[bottle-state-unknown]"), "{error}");
}

#[test]
fn a_word_that_only_the_first_edition_has_is_offered_in_it_alone() {
    let message = |edition: &str, line: &str| {
        let kitchen = Kitchen::of(&format!(
            "wetside {edition}\n\nrecipe r {{\n    wash {{\n        light     {line}\n    }}\n}}\n"
        ));
        kitchen.findings.iter().find(|finding| finding.name == "missing-word").unwrap().message.clone()
    };
    assert!(message("1", "dim").contains("'safe'"));
    let newer = message("2", "dim");
    assert!(newer.contains("'room'") && !newer.contains("'safe'"), "{newer}");
}
