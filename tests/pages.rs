//! The examples on the page of every rule break or keep the rule as stated, and the example of every row of the table of
//! words parses.

use std::collections::BTreeSet;
use std::fs;
use std::path::Path;

use crate::program::Run;
use wetside::check::{RULES, faults, rule};
use wetside::source::{Diagnostic, Level, MemoryFiles};
use wetside::vocabulary::{Block, Row, rows};

/// Findings that an example has only because it is alone: its names are not declared, and statements that belong with
/// it are missing. None is a syntax error.
const ALONE: [&str; 12] = [
    "agitation-without-time",
    "allow-without-effect",
    "chart-of-one",
    "clearing-without-fixer",
    "missing-band",
    "missing-bath",
    "missing-statement",
    "nothing-to-remove",
    "nothing-to-swap",
    "unknown-name",
    "unknown-step",
    "use-unreadable",
];

/// The findings of an example, which may use the examples between fences marked `beside NAME`.
fn findings(text: &str, page: &str) -> Vec<Diagnostic> {
    let marks = page.lines().filter_map(|line| line.strip_prefix("```beside "));
    let beside = marks.map(|name| (name, examples(page, &format!("beside {name}")).concat()));
    let name = if text.contains("\ncollection ") { "collection.wet" } else { "page.wet" };
    let files: MemoryFiles = beside.chain([(name, text.to_owned())]).collect();
    wetside::check(&files, name).unwrap().findings
}

fn names<'a>(findings: impl IntoIterator<Item = &'a Diagnostic>) -> Vec<&'static str> {
    findings.into_iter().map(|finding| finding.name).collect()
}

/// The texts between fences with that mark.
fn examples(page: &str, mark: &str) -> Vec<String> {
    let begins = format!("```{mark}\n");
    page.split(&begins).skip(1).map(|rest| rest.split("```\n").next().unwrap().to_owned()).collect()
}

#[test]
fn every_rule_has_its_page() {
    for rule in RULES {
        let page = rule.page();
        assert!(!rule.meaning.is_empty(), "{} has no meaning", rule.name);
        for part in ["**What.**", "**Why.**", "**Instead.**", "**Source.**"] {
            assert_eq!(page.matches(part).count(), 1, "{} needs one {part}", rule.name);
        }
        assert!(
            faults().contains(&(rule.name, rule.meaning)),
            "{} is not in the list of diagnostics",
            rule.name
        );
    }
}

/// Metol by 51 published formulas, the salts of iron from memory alone.
#[test]
fn the_page_about_amounts_lists_each_limit_with_its_source() {
    let page = wetside::check::rule("implausible-amount").unwrap().page();
    let lines: Vec<&str> = page.lines().filter(|line| line.starts_with("- ")).collect();
    for line in [
        "- developer: metol under 0.05 or over 18; 0.097 to 14 in 51 published formulas, 14 of them read, the rest \
         from memory",
        "- bleach-fix: ammonium-ferric-edta, ferric-sodium-edta under 15 or over 300; no formula counted, from memory",
    ] {
        assert!(lines.contains(&line), "{line}: {lines:#?}");
    }
    // The ranges of the table, and no place that is left to fill.
    assert!(80 <= lines.len() && !page.contains("{limits}"), "{}", lines.len());
    let shown = Run::new().args(["rules", "implausible-amount"]).succeeds();
    assert!(shown.contains("- developer: metol under 0.05 or over 18; 0.097 to 14 in 51"), "{shown}");
}

#[test]
fn every_page_has_an_example_that_breaks_its_rule() {
    for rule in RULES {
        let page = rule.page();
        let examples = examples(&page, "fires");
        assert!(!examples.is_empty(), "{} has no example that breaks it", rule.name);
        for example in examples {
            let found = findings(&example, &page);
            assert!(
                found.iter().any(|one| one.name == rule.name),
                "{} is not reported\n{example}",
                rule.name
            );
            // A short example may break other rules, but has no syntax error.
            let ruled = |one: &&Diagnostic| !RULES.iter().any(|rule| rule.name == one.name);
            assert_eq!(names(found.iter().filter(ruled)), [""; 0], "\n{example}");
            assert!(found.iter().all(|one| !one.help.is_empty()), "{} has no help", rule.name);
        }
    }
}

#[test]
fn every_page_has_an_example_that_keeps_its_rule() {
    for rule in RULES {
        let page = rule.page();
        let examples = examples(&page, "quiet");
        assert!(!examples.is_empty(), "{} has no example that keeps it", rule.name);
        for example in examples {
            let found = findings(&example, &page);
            assert!(found.iter().all(|one| one.name != rule.name), "{} is reported\n{example}", rule.name);
            let errors = found.iter().filter(|one| one.level == Level::Error);
            assert_eq!(names(errors), [""; 0], "in\n{example}");
        }
    }
}

#[test]
fn every_file_of_a_rule_is_in_the_list() {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("src/check/rules");
    let files = fs::read_dir(folder).unwrap().map(|entry| entry.unwrap().file_name().into_string().unwrap());
    let listed = RULES.iter().map(|rule| format!("{}.rs", rule.name.replace('-', "_")));
    let listed: BTreeSet<String> = listed.chain(["mod.rs".to_owned()]).collect();
    assert_eq!(files.collect::<BTreeSet<_>>(), listed);
    assert_eq!(RULES.len() + 1, listed.len(), "two rules have the same name");
}

#[test]
fn every_diagnostic_has_its_own_name() {
    let all: Vec<&str> = faults().iter().map(|(name, _)| *name).collect();
    let compiled = [wetside::compile::ERRORS, wetside::measure::ERRORS].concat().concat();
    let all: Vec<&str> = all.into_iter().chain(compiled.iter().map(|(name, _)| *name)).collect();
    let once: BTreeSet<&str> = all.iter().copied().collect();
    assert_eq!(once.len(), all.len());
}

/// The lines before and after an example that make it a file.
fn around(block: Block) -> (String, &'static str) {
    let (before, after) = match block {
        Block::File => ("", ""),
        Block::Film => ("film f {\n", "}\n"),
        Block::Ingredient => ("ingredient i {\nhazards unknown\n", "}\n"),
        Block::Solution => ("solution s {\nrole developer\n", "}\n"),
        Block::Formula => ("solution s {\nrole developer\nformula for 1 l {\n", "}\n}\n"),
        Block::Agitation => ("agitation a {\n", "}\n"),
        Block::Tank => ("tank t {\n", "}\n"),
        Block::Recipe => ("recipe r {\n", "}\n"),
        Block::Chart => ("recipe r {\ndevelop {\nin water\nchart {\n", "}\n}\n}\n"),
        Block::Trial => ("trial t {\nfilm f\nin d at 20 C\nexposed by w\npiece 8:00\n", "}\n"),
        Block::Strip => (
            "trial t {\nfilm f\nin d at 20 C\nexposed by w\nstrip 8:00 {\nfog 0.3\ndensities 0.3, 0.4\n",
            "}\n}\n",
        ),
        Block::Reader => ("reader r {\nwithin 0.02\n", "}\n"),
        Block::Wedge => ("wedge w {\ndensities 0.3, 0.2, 0.1\n", "}\n"),
        Block::Bath => ("bath b {\nin rapid-fix\nvolume 1 l\nmixed 2026-11-02\n", "}\n"),
        Block::Test => ("test t {\ndate 2026-11-03\nbath fix-a\nfilm f\nclears 1:15 at 20 C\n", "}\n"),
        Block::Session => {
            ("session s {\ndate 2026-11-03\nrecipe r, fingerprint \"46ac83d1\"\nslot 1 120\n", "}\n")
        }
        Block::Backlog => ("backlog w {\nroll \"1\" 120 of f\n", "}\n"),
        Block::Collection => ("collection c {\n", "}\n"),
        Block::Step(kind) => return (format!("recipe r {{\n{} {{\n", kind.word()), "}\n}\n"),
    };
    (before.to_owned(), after)
}

/// A file with the row's example in that block, in place of the block's own row of that word.
fn with_example(row: &Row, block: Block) -> String {
    let (before, after) = around(block);
    let version = if row.word == "wetside" { "" } else { "wetside 2\n" };
    // The block's own row of that word is removed; `planned` is in place of `date`.
    let own = if row.word == "planned" { "date" } else { row.word };
    let before = before.lines().filter(|line| line.split(' ').next() != Some(own));
    let before: String = before.map(|line| format!("{line}\n")).collect();
    let closed = if row.opens.is_some() { "\n}\n" } else { "\n" };
    format!("{version}{before}{}{closed}{after}", row.example)
}

#[test]
fn the_example_of_every_row_parses() {
    let (mut failures, mut alone) = (Vec::new(), BTreeSet::new());
    for row in rows() {
        for block in row.blocks {
            let text = with_example(row, *block);
            // Findings of rules are not syntax errors.
            let found: Vec<_> =
                findings(&text, "").into_iter().filter(|one| rule(one.name).is_none()).collect();
            alone.extend(names(&found));
            let wrong: Vec<_> = found.iter().filter(|one| !ALONE.contains(&one.name)).collect();
            if !wrong.is_empty() {
                failures.push(format!("{:?} in\n{text}", names(wrong)));
            }
        }
    }
    assert!(failures.is_empty(), "\n{}", failures.join("\n"));
    assert_eq!(alone, ALONE.into(), "the list has only findings that occur");
}

/// The test above could not fail if such a file had no syntax errors.
#[test]
fn an_invalid_example_is_reported() {
    for (right, wrong) in [("500 ml each", "500 each"), ("reels", "reel")] {
        let row = rows().find(|row| row.word == "reels").unwrap();
        let text = with_example(row, Block::Tank).replace(right, wrong);
        let found = findings(&text, "");
        assert!(found.iter().any(|one| !ALONE.contains(&one.name)), "{:?} in\n{text}", names(&found));
    }
}

#[test]
fn the_example_of_a_row_begins_with_its_word() {
    for row in rows().filter(|row| !row.word.is_empty()) {
        let first = row.example.split(' ').next();
        assert_eq!(first, Some(row.word), "the example is of another statement: {}", row.example);
        assert_eq!(row.opens.is_some(), row.example.ends_with('{'), "{}", row.example);
    }
}
