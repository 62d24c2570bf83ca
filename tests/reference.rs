//! The tables of the reference are generated in `tables`, and compared with `grammar/README.md`.
//!
//! With `INSTA_UPDATE=always` the page is written instead, as a snapshot would be.

mod tables;

use std::fs;
use std::path::PathBuf;

use tables::reference;
use wetside::vocabulary::{Form, NEWER_CHOICES, Part, rows};

const END: &str = "<!-- end -->\n";

fn page() -> PathBuf {
    [env!("CARGO_MANIFEST_DIR"), "grammar", "README.md"].iter().collect()
}

fn mark(name: &str) -> String {
    format!("<!-- drawn: {name} -->\n")
}

/// The text of the page between a table's marks.
fn between<'a>(page: &'a str, name: &str) -> &'a str {
    let after = page.split_once(&mark(name)).unwrap_or_else(|| panic!("no place is marked for {name}")).1;
    after.split_once(END).unwrap_or_else(|| panic!("the place for {name} has no end")).0
}

#[test]
fn the_reference_matches_the_tables_of_the_program() {
    let mut text = fs::read_to_string(page()).unwrap();
    let mut stale = Vec::new();
    for drawn in reference() {
        let there = between(&text, drawn.name).to_owned();
        if there != drawn.text {
            let old = format!("{}{there}{END}", mark(drawn.name));
            let new = format!("{}{}{END}", mark(drawn.name), drawn.text);
            text = text.replacen(&old, &new, 1);
            stale.push(new);
        }
    }
    if std::env::var("INSTA_UPDATE").is_ok_and(|update| update == "always") {
        fs::write(page(), text).unwrap();
    } else {
        assert!(
            stale.is_empty(),
            "grammar/README.md is behind: run `INSTA_UPDATE=always cargo test reference`, or put there\n{}",
            stale.concat()
        );
    }
}

#[test]
fn every_table_of_the_reference_is_generated_once() {
    let text = fs::read_to_string(page()).unwrap();
    let names: Vec<&str> = reference().iter().map(|drawn| drawn.name).collect();
    let marked: Vec<&str> = text.lines().filter_map(|line| line.strip_prefix("<!-- drawn: ")).collect();
    let mut marked: Vec<&str> = marked.iter().map(|rest| rest.trim_end_matches(" -->")).collect();
    let mut wanted = names.clone();
    wanted.sort_unstable();
    marked.sort_unstable();
    assert_eq!(marked, wanted);
}

/// The words are read from the source of the table.
#[test]
fn every_word_that_means_several_units_is_in_the_reference() {
    let table = [env!("CARGO_MANIFEST_DIR"), "src", "vocabulary", "units.rs"].iter().collect::<PathBuf>();
    let table = fs::read_to_string(table).unwrap();
    let (_, rows) = table.split_once("const AMBIGUOUS").unwrap();
    let (rows, _) = rows.split_once("\n];").unwrap();
    let rows = rows.split("(&[").skip(1).filter_map(|rest| rest.split(']').next());
    let words: Vec<&str> = rows.flat_map(|words| words.split('"').skip(1).step_by(2)).collect();
    assert!(!words.is_empty(), "no word was found in src/vocabulary/units.rs");
    let text = fs::read_to_string(page()).unwrap();
    let drawn = between(&text, "ambiguous");
    for word in &words {
        assert!(drawn.contains(&format!("| `{word}` |")), "{word} is not in the table");
    }
    assert_eq!(drawn.lines().count(), words.len() + 2, "a word of the table is not in the list");
}

/// Whether edition 1 lacks a part of the pattern.
fn has_newer(parts: &[Part]) -> bool {
    parts.iter().any(|part| match part {
        Part::Newer(..) | Part::NewWay(..) => true,
        Part::Maybe(inner) | Part::List(inner) => has_newer(inner),
        Part::Either(ways) => ways.iter().any(|way| has_newer(way)),
        Part::Slot(_, Form::Choice(words)) => words.iter().any(|word| NEWER_CHOICES.contains(word)),
        Part::Slot(_, Form::Clause(rows)) => rows().iter().any(|row| row.since > 1 || has_newer(row.takes)),
        Part::Slot(..) | Part::Word(_) | Part::Comma => false,
    })
}

#[test]
fn a_statement_of_edition_1_with_newer_parts_says_so_in_its_meaning() {
    let silent =
        rows().filter(|row| row.since == 1 && has_newer(row.takes) && !row.meaning.contains("edition 2"));
    let silent: Vec<String> = silent.map(|row| format!("{}: {}", row.text(), row.meaning)).collect();
    assert!(silent.is_empty(), "{}", silent.join("\n"));
}
