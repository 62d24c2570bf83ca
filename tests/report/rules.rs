//! `rules` lists what is checked, and `rules NAME` tells of one: what, why, and by what authority.

use std::collections::BTreeSet;
use std::fs;
use std::path::Path;

use crate::program::Run;

/// The rules by their files: each is named for its own.
fn by_file() -> BTreeSet<String> {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("src/check/rules");
    let names = fs::read_dir(folder).unwrap().map(|entry| entry.unwrap().file_name().into_string().unwrap());
    names
        .filter_map(|name| name.strip_suffix(".rs").map(|stem| stem.replace('_', "-")))
        .filter(|name| name != "mod")
        .collect()
}

/// The lines of the list, in their three columns.
fn listed() -> Vec<(String, String, String)> {
    let list = Run::new().arg("rules").succeeds();
    let columns = |line: &str| {
        let (name, rest) = line.split_once(' ').unwrap();
        let (level, meaning) = rest.trim_start().split_once(' ').unwrap();
        (name.to_owned(), level.to_owned(), meaning.trim_start().to_owned())
    };
    list.lines().map(columns).collect()
}

#[test]
fn every_rule_is_listed_once_in_the_order_of_names() {
    let listed = listed();
    let names: Vec<&String> = listed.iter().map(|(name, ..)| name).collect();
    assert_eq!(names, by_file().iter().collect::<Vec<_>>());
    for (name, level, meaning) in &listed {
        assert!(["error", "warning", "advice"].contains(&level.as_str()), "{name}: {level}");
        assert!(!meaning.is_empty(), "{name}");
    }
}

#[test]
fn each_rule_has_a_page_with_what_why_and_source() {
    let mut run = Run::new();
    for (name, level, _) in listed() {
        run = run.again().arg("rules").arg(&name);
        let page = run.succeeds();
        assert!(page.starts_with(&format!("# {name}\n\n**What.** ")), "{page}");
        for part in ["\n**Why.** ", "\n**Source.** ", "\n```fires\n", "\n```quiet\n"] {
            assert!(page.contains(part), "{name} has no {part:?}");
        }
        assert!(page.ends_with(&format!("\n\nUsual weight: {level}.\n")), "{page}");
    }
}

#[test]
fn a_fault_of_writing_is_told_of_too() {
    let page = Run::new().args(["rules", "unknown-word"]).succeeds();
    assert_eq!(
        page,
        "unknown-word\n\nTells of a word that begins no statement here. It is a fault of writing and cannot be \
         turned off.\n"
    );
}

#[test]
fn an_unknown_name_gets_its_nearest() {
    let run = Run::new().args(["rules", "short-developmnt"]);
    let said = "  x there is no rule 'short-developmnt'\n  help: did you mean short-development?\n";
    assert_eq!(run.fails(2), (String::new(), said.to_owned()));
    let run = Run::new().args(["rules", "zz\n\u{1b}[2Jzz"]);
    let (stdout, stderr) = run.fails(2);
    assert!(stdout.is_empty() && stderr.ends_with("\n  help: wetside rules lists them\n"), "{stderr}");
    assert!(!stderr.contains('\u{1b}') && stderr.lines().count() == 2, "{stderr:?}");
}
