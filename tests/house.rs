//! The project's own rules that no lint in Cargo.toml can check: the order of the stages, lengths, names, and which
//! files may use which features. Each failure names its file and line.

mod arrows;
mod boundaries;
mod files;
mod grammar;
mod leftovers;
mod snapshots;
mod sources;

use std::fs;
use std::path::Path;

/// A file of the project, with its path from the project's root.
struct Text {
    path: String,
    text: String,
}

impl Text {
    /// The lines, numbered from 1.
    fn lines(&self) -> impl Iterator<Item = (usize, &str)> {
        (1..).zip(self.text.lines())
    }

    /// The lines that are not only a comment.
    fn code(&self) -> impl Iterator<Item = (usize, &str)> {
        self.lines().filter(|(_, line)| !line.trim_start().starts_with("//"))
    }

    /// A failure for each of these words in the code.
    fn code_with(&self, words: &[&str]) -> Vec<String> {
        let found = self.code().flat_map(|(number, line)| {
            let words = words.iter().filter(move |word| has_word(line, word));
            words.map(move |word| format!("{}:{number} has {word}", self.path))
        });
        found.collect()
    }
}

fn root() -> &'static Path {
    Path::new(env!("CARGO_MANIFEST_DIR"))
}

fn text(path: &str) -> Text {
    let text = fs::read_to_string(root().join(path)).unwrap_or_else(|error| panic!("{path}: {error}"));
    Text { path: path.to_owned(), text }
}

/// The names of a folder's entries, sorted.
fn entries(folder: &str) -> Vec<String> {
    let read = fs::read_dir(root().join(folder)).unwrap_or_else(|error| panic!("{folder}: {error}"));
    let mut names: Vec<_> = read.map(|entry| entry.unwrap().file_name().into_string().unwrap()).collect();
    names.sort();
    names
}

/// All files below these folders with this ending. It is a failure if there is none.
fn texts(folders: &[&str], ending: &str) -> Vec<Text> {
    let mut found = Vec::new();
    for folder in folders {
        gather(folder, ending, &mut found);
    }
    assert!(!found.is_empty(), "no *{ending} in {folders:?}");
    found
}

fn gather(folder: &str, ending: &str, found: &mut Vec<Text>) {
    for name in entries(folder) {
        let path = format!("{folder}/{name}");
        if root().join(&path).is_dir() {
            if name != "target" {
                gather(&path, ending, found);
            }
        } else if name.ends_with(ending) {
            found.push(text(&path));
        }
    }
}

/// Whether the line has this word, not as part of a longer one.
fn has_word(line: &str, word: &str) -> bool {
    let goes_on = |c: Option<char>| c.is_some_and(|c| c.is_alphanumeric() || c == '_');
    line.match_indices(word).any(|(at, _)| {
        let (before, after) = (line.get(..at).unwrap(), line.get(at + word.len()..).unwrap());
        let closed = !goes_on(word.chars().next_back()) || !goes_on(after.chars().next());
        closed && !goes_on(before.chars().next_back())
    })
}

/// A file's name without its ending.
fn stem(name: &str) -> &str {
    name.rsplit_once('.').map_or(name, |(stem, _)| stem)
}

/// Fails if there are failures, and lists them.
#[track_caller]
fn none(failures: impl IntoIterator<Item = String>) {
    let failures: Vec<_> = failures.into_iter().collect();
    assert!(failures.is_empty(), "\n{}", failures.join("\n"));
}

/// The stages in order: the `pub mod` lines of src/lib.rs.
fn stages() -> Vec<String> {
    let lib = text("src/lib.rs");
    let names = lib.text.lines().filter_map(|line| line.strip_prefix("pub mod ")?.strip_suffix(';'));
    let stages: Vec<_> = names.map(str::to_owned).collect();
    assert!(!stages.is_empty(), "src/lib.rs names no stage");
    stages
}
