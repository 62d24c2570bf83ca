//! The TextMate grammar says what the table of words says: it is drawn again here, and compared.
//!
//! With `INSTA_UPDATE=always` the file is written instead, as a snapshot would be.

use std::fs;
use std::path::PathBuf;

use serde_json::Value;
use wetside::emit::highlight;
use wetside::vocabulary::{rows, units};

fn file() -> PathBuf {
    [env!("CARGO_MANIFEST_DIR"), "grammar", "wetside.tmLanguage.json"].iter().collect()
}

fn patterns() -> Vec<String> {
    let grammar: Value = serde_json::from_str(&fs::read_to_string(file()).unwrap()).unwrap();
    let rules = grammar["patterns"].as_array().unwrap();
    rules.iter().map(|rule| rule["match"].as_str().unwrap().to_owned()).collect()
}

/// Whether a word stands in a pattern as one of its choices.
fn is_a_choice(pattern: &str, word: &str) -> bool {
    pattern.split(['(', ')', '|', ':']).any(|choice| choice == word)
}

#[test]
fn the_textmate_grammar_is_what_the_table_says() {
    let drawn = highlight();
    if std::env::var("INSTA_UPDATE").is_ok_and(|update| update == "always") {
        fs::write(file(), &drawn).unwrap();
    }
    let there = fs::read_to_string(file()).unwrap_or_default();
    assert!(
        there == drawn,
        "grammar/wetside.tmLanguage.json is behind: run `INSTA_UPDATE=always cargo test highlight`"
    );
}

#[test]
fn every_statement_and_unit_is_coloured() {
    let patterns = patterns();
    let words = rows().map(|row| row.word).filter(|word| !word.is_empty());
    for word in words.chain(units().iter().map(|unit| unit.word)) {
        assert!(patterns.iter().any(|pattern| is_a_choice(pattern, word)), "{word} is in no pattern");
    }
}

/// `bleach` before `bleach-fix` would colour half a word.
#[test]
fn no_choice_hides_a_longer_one() {
    for pattern in patterns() {
        for choices in pattern.split(['(', ')']).filter(|group| group.contains('|')) {
            let choices: Vec<&str> = choices.trim_start_matches("?:").split('|').collect();
            for (at, choice) in choices.iter().enumerate() {
                let hidden = choices.iter().skip(at + 1).find(|later| later.starts_with(choice));
                assert!(hidden.is_none(), "{choice} hides {hidden:?} in {pattern}");
            }
        }
    }
}
