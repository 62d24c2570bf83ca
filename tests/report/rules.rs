//! `rules` lists the rules, and `rules NAME` explains one with its reason and its source.

use std::collections::BTreeSet;
use std::fs;
use std::path::Path;

use crate::evenings::shelf;
use crate::program::Run;

/// The rules by their files, each named for its rule.
fn by_file() -> BTreeSet<String> {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("src/check/rules");
    let names = fs::read_dir(folder).unwrap().map(|entry| entry.unwrap().file_name().into_string().unwrap());
    names
        .filter_map(|name| name.strip_suffix(".rs").map(|stem| stem.replace('_', "-")))
        .filter(|name| name != "mod")
        .collect()
}

/// The three columns of the list.
fn listed() -> Vec<(String, String, String)> {
    let list = Run::new().arg("rules").succeeds();
    let columns = |line: &str| {
        let (name, rest) = line.split_once(' ').unwrap();
        let (level, meaning) = rest.trim_start().split_once(' ').unwrap();
        (name.to_owned(), level.to_owned(), meaning.trim_start().to_owned())
    };
    list.lines().map(columns).collect()
}

#[test]
fn every_rule_is_listed_once_in_the_order_of_names() {
    let listed = listed();
    let names: Vec<&String> = listed.iter().map(|(name, ..)| name).collect();
    assert_eq!(names, by_file().iter().collect::<Vec<_>>());
    for (name, level, meaning) in &listed {
        assert!(["error", "warning", "advice"].contains(&level.as_str()), "{name}: {level}");
        assert!(!meaning.is_empty(), "{name}");
    }
}

#[test]
fn each_rule_has_a_page_with_what_why_and_source() {
    let mut run = Run::new();
    for (name, level, _) in listed() {
        run = run.again().arg("rules").arg(&name);
        let page = run.succeeds();
        assert!(page.starts_with(&format!("{name}\n\nWhat     ")), "{page}");
        for part in
            ["\nWhy      ", "\nInstead  ", "\nSource   ", " This breaks the rule:\n\n", " This keeps it:\n\n"]
        {
            assert!(page.contains(part), "{name} has no {part:?}");
        }
        let (_, own) = page.rsplit_once("\n\nLevel    ").unwrap();
        assert!(own.starts_with(&level), "{page}");
        assert!(own.ends_with(", unless you change it\n") || own == "error, never lifted\n", "{page}");
        assert!(!page.contains("**") && !page.contains('`'), "marks of Markdown are left:\n{page}");
        // An example is printed unchanged.
        let mut prose = page.lines().filter(|line| !line.starts_with("           "));
        let wide = prose.find(|line| 80 < line.chars().count());
        assert_eq!(wide, None, "{name}");
    }
}

/// The text is the page in `src/check/rules/fix_before_develop.rs`, wrapped by hand.
#[test]
fn a_page_is_wrapped_and_its_examples_are_indented() {
    let page = Run::new().args(["rules", "fix-before-develop"]).succeeds();
    let begins = "\
fix-before-develop

What     A fixer, a bleach or a bleach-fix before the first development.

Why      It dissolves the silver salts that hold the picture. Nothing is left to
         develop.

         This breaks the rule:

           wetside 1
           recipe wrong {
               fix {
                   in        water
                   time      5:00
";
    assert!(page.starts_with(begins), "{page}");
}

/// Each number that `card --why` or the JSON can show is a quoted string in `src/compile`.
#[test]
fn every_number_that_a_card_can_show_is_explained() {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("src/compile");
    let mut numbers = BTreeSet::new();
    for file in fs::read_dir(folder).unwrap() {
        let text = fs::read_to_string(file.unwrap().path()).unwrap();
        let is_number = |word: &&str| {
            word.strip_prefix('R')
                .is_some_and(|rest| !rest.is_empty() && rest.bytes().all(|b| b.is_ascii_digit()))
        };
        numbers.extend(text.split('"').filter(is_number).map(str::to_owned));
    }
    assert!(numbers.len() >= 8, "{numbers:?}");
    for number in numbers {
        for asked in [number.clone(), number.to_lowercase()] {
            let page = Run::new().arg("rules").arg(asked).succeeds();
            assert!(page.starts_with(&format!("{number}. ")), "{page}");
            assert!(!page.contains("**") && !page.contains('`') && !page.contains("]("), "{page}");
            assert!(page.lines().all(|line| line.chars().count() <= 80), "{page}");
        }
    }
    let page = Run::new().args(["rules", "R13"]).succeeds();
    assert!(page.starts_with("R13. Capacity. 'treats 10 rolls per 1 l at 1+4' "), "{page}");
    let page = Run::new().args(["rules", "R18"]).succeeds();
    assert!(page.starts_with("R18. A person ends a step at a sign (edition 2). "), "{page}");
    assert!(page.contains("the wash\nbegins between 6:00 and 13:00."), "{page}");
    let stderr = Run::new().args(["rules", "R99"]).fails(2).1;
    assert!(stderr.starts_with("  x there is no rule 'R99'\n"), "{stderr}");
}

#[test]
fn a_syntax_error_has_a_page_too() {
    let page = Run::new().args(["rules", "unknown-word"]).succeeds();
    assert_eq!(
        page,
        "unknown-word\n\nReports a line whose first word begins no statement. It is an error of writing and cannot be \
         turned off.\n"
    );
}

#[test]
fn an_unknown_rule_name_gets_a_suggestion() {
    let run = Run::new().args(["rules", "short-developmnt"]);
    let stderr = "  x there is no rule 'short-developmnt'\n  help: did you mean short-development?\n";
    assert_eq!(run.fails(2), (String::new(), stderr.to_owned()));
    let run = Run::new().args(["rules", "zz\n\u{1b}[2Jzz"]);
    let (stdout, stderr) = run.fails(2);
    assert!(stdout.is_empty() && stderr.ends_with("\n  help: wetside rules lists them\n"), "{stderr}");
    assert!(!stderr.contains('\u{1b}') && stderr.lines().count() == 2, "{stderr:?}");
}

/// R13 of the reference: three rolls of 135 are all that 300 ml of this fixer treat.
#[test]
fn a_card_shows_rule_numbers_only_with_why() {
    let evening = ["card", "wheelhouse-400-rotary", "--at", "19C", "--rolls", "3x135", "--tank", "drum"];
    let card = shelf().args(evening).succeeds();
    assert!(card.contains("nearly\n    exhausted\n") && !card.contains("R13"), "{card}");
    let card = shelf().args(evening).arg("--why").succeeds();
    assert!(card.contains("nearly\n    exhausted (R13)\n"), "{card}");
}
