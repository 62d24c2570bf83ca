//! No unfinished line, no test without a sentence as its name, no dependency without a reason.

use super::{has_word, none, text, texts};

#[test]
fn no_file_has_an_unfinished_line() {
    // In halves, so that this file does not contain them.
    let halves = [
        ("to", "do!"),
        ("unimple", "mented!"),
        ("d", "bg!"),
        ("TO", "DO"),
        ("FIX", "ME"),
        ("XX", "X"),
        ("#[ign", "ore"),
        ("#[should_", "panic"),
    ];
    let words = halves.map(|(one, two)| format!("{one}{two}"));
    let mut files = texts(&["src", "tests"], ".rs");
    files.extend(texts(&["grammar"], ".pest"));
    let mut failures = Vec::new();
    for file in &files {
        for (number, line) in file.lines() {
            let found = words.iter().filter(|word| has_word(line, word));
            failures.extend(found.map(|word| format!("{}:{number} has {word}", file.path)));
        }
    }
    none(failures);
}

#[test]
fn every_test_name_is_a_sentence() {
    let mut failures = Vec::new();
    for file in texts(&["tests"], ".rs") {
        let mut lines = file.lines().map(|(number, line)| (number, line.trim()));
        while lines.any(|(_, line)| line == "#[test]") {
            let (number, function) = lines.find(|(_, line)| line.starts_with("fn ")).unwrap();
            let name = function.trim_start_matches("fn ").split('(').next().unwrap();
            let ends_in_a_number = name.ends_with(|c: char| c.is_ascii_digit());
            if name.starts_with("test_") || ends_in_a_number || name.split('_').count() < 3 {
                failures.push(format!("{}:{number} {name} is not a sentence", file.path));
            }
        }
    }
    none(failures);
}

#[test]
fn every_dependency_has_a_comment_with_its_reason() {
    let manifest = text("Cargo.toml");
    let (mut failures, mut dependencies, mut is_in_list, mut above) = (Vec::new(), 0, false, "");
    for (number, line) in manifest.lines() {
        let is_table = line.starts_with('[');
        if is_table {
            is_in_list = line.ends_with("dependencies]");
        }
        let is_entry = !is_table && is_in_list && line.starts_with(char::is_alphanumeric);
        if is_entry || is_table && line.contains("dependencies.") {
            dependencies += 1;
            if !above.starts_with("# ") {
                failures.push(format!("Cargo.toml:{number} has no comment above it: {line}"));
            }
        }
        above = line;
    }
    assert!(0 < dependencies, "Cargo.toml names no dependency");
    none(failures);
}
