//! What a help line tells to write is also a fix that an editor can offer.

use std::fs;
use std::path::{Path, PathBuf};

use wetside::source::Diagnostic;

use crate::kitchen::Kitchen;

/// How help lines go on behind 'write' that name no text to paste: they say what a text is like, or give examples.
const ADVICE: [&str; 18] = [
    "it as in",
    "it with",
    "the ",
    "them ",
    "what ",
    "year, ",
    "between the quotes",
    "before or after",
    "fewer, ",
    "a ",
    "an ordinary",
    "one ",
    "at most",
    "formula for …",
    "water 750 ml, ",
    "10:15 for ",
    "1+4 for ",
    "} on a line of its own",
];

/// The texts that a help line tells to write; none where it only says what they are like.
fn texts(help: &str) -> Vec<&str> {
    let Some(rest) = help.strip_prefix("write ").or_else(|| help.strip_prefix("write: ")) else {
        return vec![];
    };
    if ADVICE.iter().any(|advice| rest.starts_with(advice)) || rest.contains("such as") {
        return vec![];
    }
    let ends = [
        " for ",
        " (",
        ": ",
        " if ",
        " after ",
        ", or ",
        "; ",
        ", with ",
        " throughout ",
        " at most",
        " instead of ",
    ];
    let end = ends.iter().filter_map(|end| rest.find(end)).min().unwrap_or(rest.len());
    rest[..end].split(" or ").map(|text| text.trim_matches('\'')).collect()
}

fn files(folder: &Path) -> Vec<PathBuf> {
    let entries = fs::read_dir(folder).unwrap().map(|entry| entry.unwrap().path());
    let mut files: Vec<PathBuf> =
        entries.filter(|path| path.extension().is_some_and(|end| end == "wet")).collect();
    files.sort();
    files
}

fn unoffered(finding: &Diagnostic) -> Vec<&str> {
    let offered = |text: &str| {
        finding.fixes.iter().any(|fix| {
            let written =
                fix.edits.iter().any(|edit| edit.text.trim() == text || text.ends_with(edit.text.trim()));
            fix.title == format!("write {text}") || written
        })
    };
    finding.help.iter().flat_map(|help| texts(help)).filter(|text| !offered(text)).collect()
}

#[test]
fn every_text_of_a_help_line_is_a_fix_in_the_editor() {
    let root = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/faults");
    let (mut suggested, mut left_out) = (0, Vec::new());
    for path in ["check", "syntax"].iter().flat_map(|folder| files(&root.join(folder))) {
        let Ok(text) = fs::read_to_string(&path) else { continue };
        for finding in &Kitchen::of(&text).findings {
            suggested += finding.help.iter().map(|help| texts(help).len()).sum::<usize>();
            left_out.extend(unoffered(finding).into_iter().map(|text| format!("{}: {text}", path.display())));
        }
    }
    assert!(suggested > 30, "{suggested} texts were suggested");
    assert!(left_out.is_empty(), "\n{}", left_out.join("\n"));
}

#[test]
fn a_number_without_a_unit_has_a_fix_for_each_unit() {
    let text = "wetside 1\nrecipe a {\n    develop {\n        chart {\n            20 C   1000\n        }\n    }\n}\n";
    let kitchen = Kitchen::of(text);
    let finding = kitchen.findings.iter().find(|finding| finding.name == "missing-unit").unwrap();
    let offered: Vec<&str> = finding.fixes.iter().map(|fix| fix.edits[0].text.as_str()).collect();
    // The units of a time: seconds, minutes, hours. None is certain.
    assert_eq!(offered, ["1000 s", "1000 min", "1000 h"]);
    assert!(finding.fixes.iter().all(|fix| !fix.certain));
}

#[test]
fn a_misspelt_word_for_agitation_has_the_word_as_a_fix() {
    for (typed, meant) in [("continous", "continuous"), ("non", "none")] {
        let text = format!(
            "wetside 1\nfilm f {{\n    speed ISO 100\n}}\nrecipe a {{\n    film f\n    presoak {{\n        time 2:00\n        agitate {typed}\n    }}\n}}\n"
        );
        let kitchen = Kitchen::of(&text);
        let finding = kitchen.findings.iter().find(|finding| finding.name == "unknown-name").unwrap();
        let offered: Vec<&str> = finding.fixes.iter().map(|fix| fix.edits[0].text.as_str()).collect();
        assert_eq!(offered, [meant]);
    }
}
