//! What may occur in some rooms only: real numbers, reading and printing, forms for the world outside.

use super::{none, texts};

/// Where a real number may occur; everywhere else a quantity is a whole number of its base unit.
const REAL_NUMBERS: [&str; 9] = [
    "src/chemistry/",
    "src/compile/",
    // JSON knows no other number.
    "src/emit/object.rs",
    // Where words stand on paper, and how wide they are.
    "src/emit/pdf/",
    // Where things stand on a picture.
    "src/emit/picture/",
    // How a tone sounds.
    "src/emit/wav.rs",
    // How much of one state of a salt stands for another.
    "src/measure/convert.rs",
    // Where a quantity is read and written.
    "src/model/quantity/",
    // How a chart falls, for the rules that doubt one.
    "src/model/steepness.rs",
];

/// The only rooms that read, print and know the time.
const EDGE: [&str; 3] = ["src/cli/", "src/disk.rs", "src/main.rs"];

/// The only rooms whose values have a form outside the program.
const BORDER: [&str; 4] = ["src/emit/", "src/report/", "src/editor/frames.rs", "src/cli/levels.rs"];

#[test]
fn real_numbers_stay_in_their_rooms() {
    only_in(&REAL_NUMBERS, &["f32", "f64"]);
}

#[test]
fn only_the_edge_prints() {
    only_in(&EDGE, &["print!", "println!", "eprint!", "eprintln!", "stdin", "stdout", "stderr"]);
}

#[test]
fn only_the_edge_knows_the_machine() {
    only_in(
        &EDGE,
        &["fs::", "std::fs", "env::", "std::env", "process::", "net::", "SystemTime", "Instant", "now("],
    );
}

#[test]
fn serialization_stays_at_the_border() {
    only_in(&BORDER, &["Serialize", "Deserialize"]);
}

fn only_in(rooms: &[&str], words: &[&str]) {
    let others = texts(&["src"], ".rs")
        .into_iter()
        .filter(|file| !rooms.iter().any(|room| file.path.starts_with(room)));
    none(others.flat_map(|file| file.code_with(words)));
}

/// How a statement or a word of one would be looked up by its spelling.
const BY_SPELLING: [&str; 7] = [
    ".row(\"",
    ".has(\"",
    "word_of(",
    "row.word ==",
    "== row.word",
    "matches!(self.row.word",
    "match row.word",
];

#[test]
fn only_the_vocabulary_looks_a_statement_up_by_its_spelling() {
    let others = texts(&["src"], ".rs").into_iter().filter(|file| !file.path.starts_with("src/vocabulary/"));
    let found = others.flat_map(|file| {
        let code = file.code().filter(|(_, line)| BY_SPELLING.iter().any(|way| line.contains(way)));
        code.map(|(number, line)| format!("{}:{number} {}", file.path, line.trim())).collect::<Vec<_>>()
    });
    none(found);
}
