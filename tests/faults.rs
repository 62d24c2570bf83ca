//! The catalogue of faults: each file below `tests/faults` is one thing that a person can get wrong, and its
//! snapshot is what that person is told. What holds for one report has to hold for all of them.
//!
//! A file is checked, or, where its first line is `# card …`, compiled by that call.

use std::collections::BTreeSet;
use std::fmt::Write;
use std::fs;
use std::panic::catch_unwind;
use std::path::Path;
use std::sync::OnceLock;

use crate::program::Run;

/// Names of faults that no file can show.
const UNSHOWN: [(&str, &str); 3] = [
    ("bad-date", "no statement takes a date yet"),
    ("unreadable-text", "the grammar reads any text through"),
    ("use-too-many", "it takes a chain of eighteen files, which a test of its own makes"),
];

/// Faults that are doubts: the file is let through.
const DOUBTS: [&str; 4] =
    ["chart-that-stands", "direction-turned-in-a-remark", "ingredient-misspelt", "ingredient-unknown"];

/// Faults that are told more than once: how many errors there are, and why.
const SEVERAL: [(&str, usize, &str); 21] = [
    ("block-begins-and-goes-on", 3, "the line is passed over, so its block falls open"),
    ("block-of-a-value", 2, "the block that it may not have, and the value that it lacks"),
    ("block-too-deep", 3, "its depth, the block that a point may not have, and the time that it lacks"),
    ("brace-on-the-next-line", 2, "each of the two lines is at fault by itself"),
    ("chart-in-a-wash", 2, "the chart does not count, so the wash has no time"),
    ("format-without-a-reel", 2, "without reels there is no volume either"),
    ("half-merged-file", 22, "each sign of a marker by itself"),
    ("line-goes-on", 2, "each of the two lines is at fault by itself"),
    ("mark-of-another-file-inside", 2, "the mark, and the word that it makes another"),
    ("minutes-and-seconds-in-primes", 2, "each of the two signs by itself"),
    ("mixture-over-the-reels", 2, "the rolls do not fit, and neither does what covers them"),
    ("no-width-space-in-a-name", 2, "the space, and the name that it makes another"),
    ("parentheses", 2, "each of the two signs by itself"),
    ("point-outside-its-chart", 3, "two lines, and the time that the step then lacks"),
    ("quote-not-closed", 3, "the brace is in the text, so the block falls open"),
    ("recipes-from-each-other-in-two-files", 2, "the files are a circle as well"),
    ("rolls-over-the-reels", 2, "the rolls do not fit, and neither does what covers them"),
    ("single-quotes", 2, "each of the two signs by itself"),
    ("step-not-closed", 2, "the block, and the step that stands in it"),
    ("time-before-its-temperature", 2, "two lines of the chart"),
    ("words-behind-a-closing-brace", 3, "the line is passed over, so its block falls open"),
];

/// Rules of the grammar that are words of everybody's as well.
const PLAIN: [&str; 1] = ["PLACEHOLDER"];

/// A snapshot has this many lines, besides three of its own.
const LINES_MAX: usize = 37;

/// A thing that a person can get wrong, and what that person is told.
struct Fault {
    name: String,
    /// What stands in its files, by their names; what was checked is the first.
    files: Vec<(String, Vec<u8>)>,
    report: String,
}

/// One finding of a report.
struct Finding<'a> {
    level: &'a str,
    name: &'a str,
    lines: Vec<&'a str>,
}

impl Fault {
    fn read(path: &Path) -> Fault {
        let name = path.file_stem().unwrap().to_str().unwrap().to_owned();
        let mut files = Vec::new();
        if path.is_dir() {
            for entry in fs::read_dir(path).unwrap() {
                let path = entry.unwrap().path();
                let name = path.file_name().unwrap().to_str().unwrap().to_owned();
                files.push((name, fs::read(path).unwrap()));
            }
            files.sort_by_key(|(name, _)| (name != "main.wet", name.clone()));
        } else {
            files.push((format!("{name}.wet"), fs::read(path).unwrap()));
        }
        let report = told(&files, DOUBTS.contains(&name.as_str()));
        Fault { name, files, report }
    }

    fn findings(&self) -> Vec<Finding<'_>> {
        findings(&self.report)
    }

    fn errors(&self) -> usize {
        self.findings().iter().filter(|finding| finding.level == "error").count()
    }

    /// What the snapshot holds: the files, as long as there is room for them, and the report.
    fn shown(&self) -> String {
        let mut sources = String::new();
        for (name, bytes) in &self.files {
            let head = if self.files.len() == 1 { "the file" } else { name };
            writeln!(sources, "--- {head}\n{}", visible(bytes).trim_end()).unwrap();
        }
        let status = if DOUBTS.contains(&self.name.as_str()) { 0 } else { 1 };
        let report = format!("--- status {status}\n{}", self.report.trim_end());
        let whole = format!("{sources}{report}");
        let fits = |text: &str| text.lines().count() <= LINES_MAX && text.lines().all(|line| line.len() <= 400);
        if fits(&whole) {
            return whole;
        }
        if fits(&report) || !SEVERAL.iter().any(|(name, ..)| *name == self.name) {
            return report;
        }
        let first: Vec<_> = report.lines().take(LINES_MAX - 1).collect();
        format!("{}\n--- and so on: {} errors", first.join("\n"), self.errors())
    }
}

/// What a person is told of these files, the first of which is the one in question.
fn told(files: &[(String, Vec<u8>)], is_doubt: bool) -> String {
    let (main, text) = files.first().unwrap();
    let mut run = Run::new();
    for (name, bytes) in files {
        run = run.file(name, bytes);
    }
    let text = String::from_utf8_lossy(text);
    match text.lines().next().and_then(|line| line.strip_prefix("# card ")) {
        Some(call) => {
            run = run.args(["card", main]);
            let (out, report) = call.split_whitespace().fold(run, |run, arg| run.arg(arg)).fails(1);
            assert_eq!(out, "", "{main} gives a card all the same");
            report
        }
        None if is_doubt => run.args(["check", main]).succeeds(),
        None => {
            let (report, error) = run.args(["check", main]).fails(1);
            assert_eq!(error, "", "{main} says something on standard error");
            report
        }
    }
}

fn catalogue() -> &'static [Fault] {
    static CATALOGUE: OnceLock<Vec<Fault>> = OnceLock::new();
    CATALOGUE.get_or_init(|| {
        let entries = |folder: &Path| -> Vec<_> {
            let mut paths: Vec<_> = fs::read_dir(folder).unwrap().map(|entry| entry.unwrap().path()).collect();
            paths.sort();
            paths
        };
        let stages = entries(&Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/faults"));
        stages.iter().flat_map(|stage| entries(stage)).map(|path| Fault::read(&path)).collect()
    })
}

fn findings(report: &str) -> Vec<Finding<'_>> {
    let mut findings: Vec<Finding<'_>> = Vec::new();
    for line in report.lines() {
        let head = line.split_once("]: ").and_then(|(head, _)| head.split_once('['));
        match head.filter(|(level, _)| ["error", "warning", "note"].contains(level)) {
            Some((level, name)) => findings.push(Finding { level, name, lines: vec![line] }),
            None => findings.iter_mut().last().into_iter().for_each(|finding| finding.lines.push(line)),
        }
    }
    findings
}

/// A text with its hidden characters written out.
fn visible(bytes: &[u8]) -> String {
    let shown = |letter: char| match letter {
        '\n' => "\n".to_owned(),
        ' '..='~' => letter.to_string(),
        letter if letter.is_alphanumeric() || letter.is_ascii_punctuation() => letter.to_string(),
        '“' | '”' | '−' | '×' | '°' => letter.to_string(),
        letter => letter.escape_default().to_string(),
    };
    String::from_utf8_lossy(bytes).chars().map(shown).collect()
}

/// Fails with all of these, if there is one.
#[track_caller]
fn none(failures: impl IntoIterator<Item = String>) {
    let failures: Vec<_> = failures.into_iter().collect();
    assert!(failures.is_empty(), "\n{}", failures.join("\n"));
}

#[test]
fn each_fault_is_told_in_these_words() {
    let mut settings = insta::Settings::clone_current();
    settings.set_omit_expression(true);
    let differs = |fault: &&Fault| {
        let compare = || insta::assert_snapshot!(fault.name.as_str(), fault.shown());
        settings.bind(|| catch_unwind(compare)).is_err()
    };
    none(catalogue().iter().filter(differs).map(|fault| format!("{} is told otherwise", fault.name)));
}

#[test]
fn a_fault_is_a_small_file() {
    let lines = |fault: &Fault| {
        fault.files.iter().map(|(_, bytes)| bytes.iter().filter(|byte| **byte == b'\n').count()).sum()
    };
    let mut lengths: Vec<usize> = catalogue().iter().map(lines).collect();
    none(catalogue().iter().filter(|fault| 25 < lines(fault)).map(|fault| format!("{} is long", fault.name)));
    lengths.sort_unstable();
    assert!(lengths.get(lengths.len() / 2).is_some_and(|median| *median <= 10), "{lengths:?}");
    assert!(110 <= lengths.len(), "only {} faults", lengths.len());
}

#[test]
fn every_name_of_a_fault_is_shown() {
    let compiling = wetside::compile::FAULTS.iter().copied().flatten().copied();
    let names: BTreeSet<&str> = wetside::check::faults().into_iter().chain(compiling).map(|(name, _)| name).collect();
    let shown: BTreeSet<&str> = catalogue().iter().flat_map(Fault::findings).map(|finding| finding.name).collect();
    let unshown: BTreeSet<&str> = UNSHOWN.iter().map(|(name, _)| *name).collect();
    let missing: BTreeSet<&str> = names.difference(&shown).copied().collect();
    assert_eq!(missing, unshown, "what no file shows, and what is known to be shown by none");
    none(shown.difference(&names).map(|name| format!("{name} is in no table of faults")));
}

#[test]
fn one_fault_is_told_once() {
    for name in SEVERAL.iter().map(|(name, ..)| name).chain(&DOUBTS) {
        assert!(catalogue().iter().any(|fault| fault.name == *name), "there is no fault {name}");
    }
    none(catalogue().iter().filter_map(|fault| {
        let several = SEVERAL.iter().find(|(name, ..)| *name == fault.name).map(|(_, count, _)| *count);
        let expected = several.unwrap_or(usize::from(!DOUBTS.contains(&fault.name.as_str())));
        let errors = fault.errors();
        let wrong = errors != expected || fault.findings().is_empty();
        wrong.then(|| format!("{} gives {errors} errors, and {expected} are known", fault.name))
    }));
}

#[test]
fn every_finding_says_what_to_write() {
    none(catalogue().iter().flat_map(|fault| {
        let helps = |finding: &Finding<'_>| finding.lines.iter().any(|line| line.contains("= help: "));
        let silent = fault.findings().into_iter().filter(move |finding| !helps(finding));
        silent.map(|finding| format!("{}: {} has no help", fault.name, finding.name))
    }));
}

#[test]
fn no_report_speaks_of_the_grammar() {
    let grammar = fs::read_to_string(Path::new(env!("CARGO_MANIFEST_DIR")).join("grammar/wetside.pest")).unwrap();
    let heads = grammar.lines().filter(|line| line.starts_with(|first: char| first.is_ascii_lowercase()));
    let rules: BTreeSet<&str> = heads.filter_map(|line| line.split_once(" = ")).map(|(rule, _)| rule).collect();
    none(PLAIN.iter().filter(|word| !rules.contains(*word)).map(|word| format!("{word} is no rule")));
    none(catalogue().iter().flat_map(|fault| {
        let ours = ours(&fault.report);
        let words: BTreeSet<String> =
            ours.split(|letter: char| !letter.is_alphanumeric() && letter != '_').map(str::to_owned).collect();
        let said = rules.iter().filter(move |rule| words.contains(**rule) && !PLAIN.contains(rule));
        said.map(|rule| format!("{}: a report says '{rule}'", fault.name))
    }));
}

/// What of a report is our own words: no quoted line, no path, and nothing between quotes.
fn ours(report: &str) -> String {
    let quotes = |line: &&str| {
        let start = line.trim_start().trim_start_matches(|letter: char| letter.is_ascii_digit());
        start.starts_with(" | ") || start.starts_with("| ") || start.starts_with("--> ")
    };
    let lines: Vec<&str> = report.lines().filter(|line| !quotes(line)).collect();
    lines.join("\n").split('\'').step_by(2).collect()
}

#[test]
fn no_report_holds_a_hidden_character() {
    let hidden = |letter: char| match letter {
        '\n' => false,
        '\u{200b}'..='\u{200f}' | '\u{202a}'..='\u{202e}' | '\u{2066}'..='\u{2069}' | '\u{feff}' => true,
        letter => letter.is_control(),
    };
    let seen = catalogue().iter().filter(|fault| fault.report.contains(hidden));
    none(seen.map(|fault| format!("{} has one in its report", fault.name)));
}

/// Faults that have nothing to do with each other, each by its name.
const APART: [(&str, &str); 10] = [
    ("missing-word", "film ebb-50 {\n    speed     50\n}\n"),
    ("unknown-word", "film estuary-400 {\n    gran      tabular\n}\n"),
    ("missing-unit", "tank tall {\n    reels     120 x 5, 500 ml each\n    holds     2.6\n}\n"),
    ("unit-spelling", "tank twin {\n    reels     120 x 1, 500 ml each\n    drain     10 sec\n}\n"),
    ("ambiguous-unit", "solution pq-borax {\n    role      developer\n    needs     1/2 pt per roll\n}\n"),
    ("agitation-over-period", "agitation steady {\n    then      90 s every 1 min\n}\n"),
    ("unknown-name", "recipe dusk {\n    stop {\n        in        citric-stop\n        time      1:00\n    }\n}\n"),
    ("bad-clock", "recipe dawn {\n    stop {\n        in        water\n        time      1:75\n    }\n}\n"),
    ("missing-bath", "recipe noon {\n    stop {\n        time      1:00\n    }\n}\n"),
    ("wet-after-dry", "recipe night {\n    dry {\n        time      3 h\n    }\n    rest {\n        time      1:00\n    }\n}\n"),
];

#[test]
fn so_many_faults_are_told_in_one_run() {
    for count in 1..=APART.len() {
        let (names, texts): (Vec<&str>, Vec<&str>) = APART.iter().take(count).copied().unzip();
        let file = ("all.wet".to_owned(), format!("wetside 1\n\n{}", texts.concat()).into_bytes());
        let report = told(&[file], false);
        let told: Vec<&str> = findings(&report).iter().map(|finding| finding.name).collect();
        assert_eq!(told, names, "{report}");
    }
}

#[test]
fn a_chain_of_files_has_an_end() {
    let file = |number: usize| {
        (format!("{number}.wet"), format!("wetside 1\n\nuse \"{}.wet\"\n", number + 1).into_bytes())
    };
    let mut files: Vec<_> = (0..17).map(file).collect();
    files.push(("17.wet".to_owned(), b"wetside 1\n".to_vec()));
    let report = told(&files, false);
    let told: Vec<&str> = findings(&report).iter().map(|finding| finding.name).collect();
    assert_eq!(told, ["use-too-many"], "{report}");
    assert!(report.contains("16.wet:3:5"), "{report}");
}
