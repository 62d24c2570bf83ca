//! The TextMate grammar, generated here from the vocabulary, and compared with `grammar/wetside.tmLanguage.json`.
//!
//! With `INSTA_UPDATE=always` the file is written instead, as a snapshot would be.

use std::collections::BTreeSet;
use std::fs;
use std::path::PathBuf;

use serde_json::{Value, json};
use wetside::vocabulary::{Block, Row, rows, units};

/// What may not follow or go before a word, so that it is a whole one.
const BEFORE: &str = "(?<![\\w/-])";
const BEHIND: &str = "(?![\\w/-])";

/// The grammar as its file has it; ends with one line ending.
fn highlight() -> String {
    let declared = |row: &&Row| row.opens.and_then(Block::declares).is_some();
    let opening = |row: &&Row| row.opens.is_some();
    let heads = words(rows().filter(opening).filter(declared));
    let blocks = words(rows().filter(opening).filter(|row| !declared(row)));
    let plain = words(rows().filter(|row| !row.word.is_empty() && row.opens.is_none()));
    let mut inner: BTreeSet<&str> = rows().flat_map(Row::words).collect();
    inner.extend(["stock", "no-water"]);
    let unit_words: BTreeSet<&str> = units().iter().map(|unit| unit.word).chain(["°C", "°F"]).collect();
    let number = "[-+]?[0-9]+(?:\\.[0-9]+)?";
    let rules: Vec<Value> = vec![
        rule("comment.line.number-sign", "#.*$"),
        rule("string.quoted.double", "\"[^\"\\n]*\""),
        rule("invalid.illegal.unclosed", "\"[^\"\\n]*$"),
        json!({
            "match": format!("^\\s*({})\\s+([a-z][a-z0-9-]*)", any(&heads)),
            "captures": {
                "1": { "name": scope("storage.type") },
                "2": { "name": scope("entity.name.type") },
            },
        }),
        rule("keyword.control", &format!("^\\s*(?:{}){BEHIND}", any(&blocks))),
        rule("keyword.other", &format!("^\\s*(?:{}){BEHIND}", any(&plain))),
        rule("constant.numeric.date", "\\b[0-9]+-[0-9]{2}-[0-9]{2}\\b"),
        rule("constant.numeric.clock", "\\b[0-9]+(?::[0-9]+)+\\b"),
        rule("constant.numeric.dilution", "\\b[0-9]+(?:\\+[0-9]+)+\\b"),
        rule("constant.numeric.format", "\\b[0-9]+(?:x[0-9]+in|-[0-9]+)\\b"),
        json!({
            "match": format!("({number}(?:\\s*[0-9]*/[0-9]+)?)\\s*(%|(?:{}){BEHIND})", any(&unit_words)),
            "captures": {
                "1": { "name": scope("constant.numeric") },
                "2": { "name": scope("keyword.other.unit") },
            },
        }),
        rule("constant.numeric", &format!("(?<![\\w-]){number}\\b")),
        rule("support.constant", &format!("{BEFORE}(?:{}){BEHIND}", any(&inner))),
        rule("variable.other", "[a-z][a-z0-9-]*(?:/[a-z][a-z0-9-]*)?"),
        rule("punctuation.separator", ","),
        rule("punctuation.section", "[{}]"),
    ];
    let grammar = json!({
        "name": "Wetside",
        "scopeName": scope("source"),
        "fileTypes": ["wet"],
        "patterns": rules,
    });
    format!("{grammar:#}\n")
}

fn scope(name: &str) -> String {
    format!("{name}.wetside")
}

fn rule(name: &str, pattern: &str) -> Value {
    json!({ "name": scope(name), "match": pattern })
}

fn words(rows: impl Iterator<Item = &'static Row>) -> BTreeSet<&'static str> {
    rows.map(|row| row.word).collect()
}

/// Any of these, the longer first, since the first that fits is taken.
fn any(words: &BTreeSet<&str>) -> String {
    let mut words: Vec<&str> = words.iter().copied().collect();
    words.sort_by_key(|word| std::cmp::Reverse(word.len()));
    words.join("|")
}

fn file() -> PathBuf {
    [env!("CARGO_MANIFEST_DIR"), "grammar", "wetside.tmLanguage.json"].iter().collect()
}

fn patterns() -> Vec<String> {
    let grammar: Value = serde_json::from_str(&highlight()).unwrap();
    let rules = grammar["patterns"].as_array().unwrap();
    rules.iter().map(|rule| rule["match"].as_str().unwrap().to_owned()).collect()
}

/// Whether a word is one of the choices of a pattern.
fn is_a_choice(pattern: &str, word: &str) -> bool {
    pattern.split(['(', ')', '|', ':']).any(|choice| choice == word)
}

#[test]
fn the_textmate_grammar_matches_the_table() {
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
