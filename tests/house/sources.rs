//! Published sources are named in full, and everywhere in the same way.

use wetside::check::RULES;

use super::{Text, none, texts};

/// Published works: the part of the name that no other work has, and the whole name.
const WORKS: [(&str, &str); 16] = [
    ("SS0509", "US Army, Laboratory Procedures, subcourse SS0509, 1988"),
    ("SS0513", "US Army, Photographic Quality Control, subcourse SS0513, 1988"),
    ("MD0802", "US Army, Pharmaceutical Calculations, subcourse MD0802"),
    ("ICSC ", "International Chemical Safety Card ICSC "),
    ("14209", "US Navy, Photography (Basic), NAVEDTRA 14209, 1993"),
    ("14262", "US Navy, Illustrator Draftsman, NAVEDTRA 14262"),
    ("33B-1-1", "US Department of Defense, Nondestructive Inspection Methods, T.O. 33B-1-1"),
    ("4732.0555", "Minnesota Rules 4732.0555"),
    ("246-225-150", "Washington Administrative Code 246-225-150"),
    ("20.3.6.612", "New Mexico Administrative Code 20.3.6.612, appendix C"),
    (
        "2-80-076",
        "US EPA, A Method for Determining the Compatibility of Hazardous Wastes, EPA-600/2-80-076, 1980",
    ),
    ("Darkroom Cookbook", "Anchell, The Darkroom Cookbook, 3rd ed., 2008"),
    ("Cyclopaedia", "Jones (ed.), Cassell's Cyclopaedia of Photography, 1911"),
    ("Dictionary of Photography", "Wall, The Dictionary of Photography, c. 1902"),
    ("Self-Instructing", "Schriever (ed.), Complete Self-Instructing Library of Practical Photography, 1909"),
    ("Theory and Practice", "Clerc, Photography: Theory and Practice, 1937"),
];

/// Words in a source that cannot be checked, each in small letters.
const VAGUE: [&str; 10] = [
    "a cookbook",
    "data sheet of",
    "formula reprint",
    "handbooks",
    "handout",
    "maker's manual",
    "maker's publication",
    "supplier data sheet",
    "supplier's data sheet",
    "teacher's page",
];

/// What the source of a rule may be, if it is no published work.
const UNPUBLISHED: [&str; 6] = [
    "common practice, no source",
    "from memory",
    "arithmetic",
    "ISO ",
    "Regulation (EC) ",
    "United Nations, ",
];

/// The files that state sources, without this one.
fn files() -> Vec<Text> {
    let mut all = texts(&["src", "tests"], ".rs");
    all.extend(texts(&["recipes", "tests/plausible", "tests/habits"], ".wet"));
    all.extend(texts(&["grammar"], ".md"));
    all.retain(|file| file.path != "tests/house/sources.rs");
    all
}

/// A text in one line, without the marks of comments, so that a name may be broken over lines.
fn flat(text: &str) -> String {
    let lines = text.lines().map(|line| {
        let line = line.trim().trim_start_matches(['/', '!', '#']).trim();
        line.strip_suffix('\\').unwrap_or(line).trim()
    });
    lines.collect::<Vec<_>>().join(" ")
}

#[test]
fn a_published_source_has_its_whole_name() {
    let mut failures = Vec::new();
    for file in files() {
        let text = flat(&file.text);
        for (mark, whole) in WORKS {
            let (marks, wholes) = (text.matches(mark).count(), text.matches(whole).count());
            if marks != wholes {
                failures.push(format!("{}: {mark} is not always in '{whole}'", file.path));
            }
        }
    }
    none(failures);
}

#[test]
fn no_source_is_vague() {
    let found = files().into_iter().flat_map(|file| {
        let lines = file.lines().map(|(number, line)| (number, line.to_lowercase()));
        let vague = lines.filter(|(_, line)| VAGUE.iter().any(|words| line.contains(words)));
        let vague: Vec<String> =
            vague.map(|(number, line)| format!("{}:{number}: {}", file.path, line.trim())).collect();
        vague
    });
    none(found);
}

#[test]
fn the_source_of_every_rule_is_a_published_work_or_said_to_be_none() {
    none(RULES.iter().filter_map(|rule| {
        let page = flat(&rule.page());
        let source = page.split("**Source.**").nth(1).unwrap_or_default();
        let is_published = WORKS.iter().any(|(_, whole)| source.contains(whole));
        let said = |words: &&str| source.to_lowercase().contains(&words.to_lowercase());
        let is_said = UNPUBLISHED.iter().any(said);
        (!is_published && !is_said).then(|| format!("{}: its source is '{source}'", rule.name))
    }));
}
