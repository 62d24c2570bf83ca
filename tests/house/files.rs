//! The names, places, heads and lengths of files.

use super::{entries, none, root, stem, text, texts};

/// The allowed entries of the top folder, besides dot files and `target`.
const TOP: [&str; 9] = [
    "Cargo.lock",
    "Cargo.toml",
    "DEVELOPERS.md",
    "LICENSE",
    "README.md",
    "grammar",
    "recipes",
    "src",
    "tests",
];

/// Names that do not describe the contents of the file.
const EMPTY_NAMES: [&str; 8] = ["common", "helper", "helpers", "misc", "type", "types", "util", "utils"];

#[test]
fn the_top_folder_has_only_the_listed_entries() {
    let others = entries("").into_iter().filter(|name| !name.starts_with('.') && name != "target");
    none(others.filter(|name| !TOP.contains(&name.as_str())));
}

#[test]
fn every_file_begins_with_a_doc_comment() {
    let files = texts(&["src", "tests"], ".rs").into_iter().filter(|file| !file.text.starts_with("//! "));
    none(files.map(|file| format!("{}:1 does not begin with `//! `", file.path)));
}

#[test]
fn no_file_is_over_400_lines() {
    let files = texts(&["src", "tests"], ".rs").into_iter().filter(|file| 400 < file.lines().count());
    none(files.map(|file| format!("{} has {} lines", file.path, file.lines().count())));
}

#[test]
fn lib_rs_has_at_most_100_lines() {
    let lines = text("src/lib.rs").lines().count();
    assert!(lines <= 100, "src/lib.rs has {lines}");
}

#[test]
fn no_file_has_an_empty_name_or_is_too_deep() {
    let mut failures = Vec::new();
    for file in texts(&["src", "tests"], ".rs") {
        let names: Vec<_> = file.path.split('/').map(stem).collect();
        if names.iter().any(|name| EMPTY_NAMES.contains(name)) {
            failures.push(format!("{} has a name that does not say what it contains", file.path));
        }
        if file.path.starts_with("src/") && 4 < names.len() {
            failures.push(format!("{} is more than three deep below src", file.path));
        }
    }
    none(failures);
}

/// `tests/main.rs` names each file in `tests`, and `tests/house.rs` each file in `tests/house`. A folder with a
/// `main.rs` is a separate program, and a folder with a `Cargo.toml` a separate crate.
#[test]
fn every_test_file_is_named_by_a_mod_line() {
    let tests = root().join("tests");
    let is_crate =
        |path: &str| path.split('/').nth(1).is_some_and(|name| tests.join(name).join("Cargo.toml").exists());
    let mut failures = Vec::new();
    for file in texts(&["tests"], ".rs").iter().filter(|file| !is_crate(&file.path)) {
        let (folder, name) = file.path.rsplit_once('/').unwrap();
        let module = format!("{folder}.rs");
        let above = if root().join(&module).exists() { module } else { format!("{folder}/main.rs") };
        let line = format!("mod {};", stem(name));
        let is_named = root().join(&above).exists()
            && text(&above).lines().any(|(_, text)| text.trim_start_matches("pub(crate) ") == line);
        if file.path != above && !is_named {
            failures.push(format!("{} is not compiled: {above} has no `{line}`", file.path));
        }
    }
    none(failures);
}
