//! Which files there may be, what they are called, how they begin, and how long they are.

use super::{entries, none, root, stem, text, texts};

/// What may stand at the project's top, besides dot files and what the build leaves in `target`.
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

/// Names that tell a reader nothing of what is inside.
const EMPTY_NAMES: [&str; 8] = ["common", "helper", "helpers", "misc", "type", "types", "util", "utils"];

#[test]
fn top_level_holds_only_what_it_should() {
    let others = entries("").into_iter().filter(|name| !name.starts_with('.') && name != "target");
    none(others.filter(|name| !TOP.contains(&name.as_str())));
}

#[test]
fn every_file_has_a_head() {
    let files = texts(&["src", "tests"], ".rs").into_iter().filter(|file| !file.text.starts_with("//! "));
    none(files.map(|file| format!("{}:1 does not begin with `//! `", file.path)));
}

#[test]
fn no_file_is_over_400_lines() {
    let files = texts(&["src", "tests"], ".rs").into_iter().filter(|file| 400 < file.lines().count());
    none(files.map(|file| format!("{} has {} lines", file.path, file.lines().count())));
}

#[test]
fn lib_is_at_most_100_lines() {
    let lines = text("src/lib.rs").lines().count();
    assert!(lines <= 100, "src/lib.rs has {lines}");
}

#[test]
fn no_name_says_nothing() {
    let mut failures = Vec::new();
    for file in texts(&["src", "tests"], ".rs") {
        let names: Vec<_> = file.path.split('/').map(stem).collect();
        if names.iter().any(|name| EMPTY_NAMES.contains(name)) {
            failures.push(format!("{} is named for nothing that is in it", file.path));
        }
        if file.path.starts_with("src/") && 4 < names.len() {
            failures.push(format!("{} is more than three deep below src", file.path));
        }
    }
    none(failures);
}

/// A file counts only if the file above it names it: `tests/main.rs`, or `tests/house.rs` for `tests/house/*`.
/// A folder with a `main.rs` is a program of its own, and one with a `Cargo.toml` a crate of its own.
#[test]
fn no_test_file_is_forgotten() {
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
            failures.push(format!("{} is forgotten: {above} has no `{line}`", file.path));
        }
    }
    none(failures);
}
