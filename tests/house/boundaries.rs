//! Features that only some files may use: real numbers, input and output, serialisation.

use super::{none, texts};

/// The files that may use real numbers. Elsewhere a quantity is a whole number of its base unit.
const REAL_NUMBERS: [&str; 23] = [
    "src/chemistry/",
    "src/compile/",
    // JSON has no other numbers.
    "src/emit/object.rs",
    // The positions and widths of words on paper.
    "src/emit/pdf/",
    // The positions in a picture.
    "src/emit/picture/",
    // The samples of a tone.
    "src/emit/wav.rs",
    // Whether an amount is plausible.
    "src/check/mixture/",
    "src/check/rules/",
    // The ratio of the molar masses of two states of a salt.
    "src/measure/convert.rs",
    // Parsing and printing quantities.
    "src/model/quantity/",
    // The same ratio.
    "src/model/content.rs",
    "src/model/mixed.rs",
    // Densities, contrasts, and the times that follow from them.
    "src/trial/",
    "src/evaluate/",
    "src/model/trial.rs",
    "src/check/build/by_trial.rs",
    "src/check/build/exposures.rs",
    "src/check/build/trials.rs",
    "src/emit/trial/",
    "src/emit/json.rs",
    // How fast a step goes on at each temperature.
    "src/emit/html/pace.rs",
    "src/model/speed.rs",
    // The steepness of a chart, for lint rules.
    "src/model/chart.rs",
];

/// The only files that read, print and use the clock.
const CLI: [&str; 3] = ["src/cli/", "src/disk.rs", "src/main.rs"];

/// The only files with serialised values.
const SERIALISED: [&str; 9] = [
    "src/emit/",
    "src/page/",
    "src/report/",
    "src/editor/frames.rs",
    "src/editor/protocol.rs",
    "src/cli/levels.rs",
    // The card made last, which is kept for the next call.
    "src/cli/tonight.rs",
    "src/cli/evening.rs",
    // The severity and the fixes of a finding, which a report has as they are.
    "src/source/diagnostic.rs",
];

/// The files that use the library's trees. Elsewhere a map is a [`wetside::source::Map`] and a sort is
/// `order_by`, which are compiled once and not for every type.
const TREES: [&str; 19] = [
    "src/source/files.rs",
    "src/source/map.rs",
    "src/source/sorted.rs",
    // Maps that are read from JSON or TOML, or written as JSON.
    "src/cli/levels.rs",
    "src/cli/site.rs",
    "src/editor/places.rs",
    "src/editor/view.rs",
    "src/page/",
    // Thousands of keys that come in any order, most of them names of declarations or rolls.
    "src/check/build/collection.rs",
    "src/check/build/contradictions.rs",
    "src/check/build/mod.rs",
    "src/check/build/planned.rs",
    "src/check/level.rs",
    "src/check/rules/shadowed_name.rs",
    "src/check/rules/title_of_another.rs",
    "src/check/scope.rs",
    "src/cli/past/mod.rs",
    "src/cli/past/objects.rs",
    "src/plan/pack.rs",
];

#[test]
fn only_the_listed_files_use_the_trees_of_the_library() {
    only_in(&TREES, &["BTreeMap", "BTreeSet", ".sort_by(", ".sort_by_key(", ".sort_unstable_by("]);
}

#[test]
fn real_numbers_occur_only_in_the_listed_files() {
    only_in(&REAL_NUMBERS, &["f32", "f64"]);
}

#[test]
fn only_the_cli_prints() {
    only_in(&CLI, &["print!", "println!", "eprint!", "eprintln!", "stdin", "stdout", "stderr"]);
}

#[test]
fn only_the_cli_uses_the_operating_system() {
    only_in(
        &CLI,
        &["fs::", "std::fs", "env::", "std::env", "process::", "net::", "SystemTime", "Instant", "now("],
    );
}

#[test]
fn only_the_listed_files_serialise() {
    only_in(&SERIALISED, &["Serialize", "Deserialize"]);
}

fn only_in(allowed: &[&str], words: &[&str]) {
    let others = texts(&["src"], ".rs")
        .into_iter()
        .filter(|file| !allowed.iter().any(|path| file.path.starts_with(path)));
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
