//! Formulas and sequences as published, and the same with one slip each: the first are quiet, and of each slip there is
//! a finding at its line or in its block.

use std::fs;
use std::path::Path;

use serde_json::Value;
use wetside::source::Diagnostic;

use crate::kitchen::Kitchen;

const FOLDER: &str = concat!(env!("CARGO_MANIFEST_DIR"), "/tests/plausible");

/// Each file with a slip, and the rule that tells of it.
const TOLD_BY: &[(&str, &str)] = &[
    ("shown-citric-x10.wet", "implausible-amount"),
    ("shown-dichromate-mg.wet", "implausible-amount"),
    ("shown-fixer-no-sulfite.wet", "acid-without-sulfite"),
    ("shown-glacial-x10.wet", "implausible-amount"),
    ("shown-hydroquinone-x10.wet", "implausible-amount"),
    ("shown-keeps-years.wet", "implausible-keeping"),
    ("shown-monobath-no-hypo.wet", "fixer-without-thiosulfate"),
    ("shown-no-alkali.wet", "developer-without-alkali"),
    ("shown-no-sulfite.wet", "developer-without-preservative"),
    ("shown-phenidone-x10.wet", "implausible-amount"),
    ("shown-sulfate-for-hypo.wet", "fixer-without-thiosulfate"),
    ("shown-sulfate-for-sulfite.wet", "developer-without-preservative"),
    ("shown-tank-25-l.wet", "implausible-tank"),
    ("shown-treats-x10.wet", "implausible-capacity"),
];

fn read(path: &Path) -> Kitchen {
    Kitchen::of(&fs::read_to_string(path).unwrap())
}

/// The first line that a finding marks, counted from 1.
fn line(kitchen: &Kitchen, finding: &Diagnostic) -> u64 {
    let before = kitchen.sources.text(kitchen.file).get(..finding.span.start as usize).unwrap();
    1 + before.matches('\n').count() as u64
}

#[test]
fn nothing_is_reported_of_a_published_formula_or_sequence() {
    let mut count = 0;
    for entry in fs::read_dir(Path::new(FOLDER).join("sound")).unwrap() {
        let path = entry.unwrap().path();
        let kitchen = read(&path);
        assert!(kitchen.findings.is_empty(), "{}\n{}", path.display(), kitchen.report(&kitchen.findings));
        count += 1;
    }
    assert_eq!(count, 20);
}

#[test]
fn each_slip_is_told_once_by_its_rule_in_its_block() {
    let folder = Path::new(FOLDER).join("broken");
    let index: Value = serde_json::from_str(&fs::read_to_string(folder.join("index.json")).unwrap()).unwrap();
    let index = index.as_array().unwrap();
    for (file, rule) in TOLD_BY {
        let slip = index.iter().find(|slip| slip["file"] == *file).unwrap();
        let [from, to] = [0, 1].map(|at| slip["block"][at].as_u64().unwrap());
        let kitchen = read(&folder.join(file));
        let report = kitchen.report(&kitchen.findings);
        let names: Vec<&str> = kitchen.findings.iter().map(|finding| finding.name).collect();
        assert_eq!(names, [*rule], "{file}\n{report}");
        assert!((from..=to).contains(&line(&kitchen, &kitchen.findings[0])), "{file}\n{report}");
    }
}
