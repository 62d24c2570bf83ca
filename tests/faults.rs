//! The catalogue of errors: each file below `tests/faults` has one error, and its snapshot is the report. A file is
//! checked, or given to the call on its first line, such as `# card …`, `# measure …` or `# plan …`.

use std::collections::BTreeSet;
use std::fmt::Write;
use std::fs;
use std::panic::catch_unwind;
use std::path::{Path, PathBuf};
use std::sync::OnceLock;

use crate::program::Run;

/// Names of faults that no file can show.
const UNSHOWN: [(&str, &str); 11] = [
    ("block-too-long", "it takes a thousand lines, which a test of its own makes"),
    ("from-too-deep", "it takes 34 recipes, which a test of its own makes"),
    ("list-too-long", "it takes ten thousand rolls, which `plan` has"),
    ("list-unreadable", "the reader of tables reads any text through"),
    ("rolls-left-out", "the other rolls are planned all the same, which `plan` has"),
    ("too-many-findings", "it takes ten thousand, which a test of its own makes"),
    ("too-many-names", "it takes 300,000 names, which hostile input has"),
    ("too-much-derived", "it takes recipes of four megabytes, which hostile input has"),
    ("unreadable-text", "the grammar reads any text through"),
    ("use-inside-collection", "it takes the folder of a collection, which `collections` has"),
    ("use-too-many", "it takes eighteen files, which a test of its own makes"),
];

/// Examples with advice or warnings only: the file has no error.
const ONLY_ADVICE: [&str; 6] = [
    "allowance-without-effect",
    "chart-that-stands",
    "contrast-that-falls",
    "direction-turned-in-a-remark",
    "ingredient-misspelt",
    "ingredient-unknown",
];

/// Examples with several errors: the number of errors, and the reason.
const SEVERAL: [(&str, usize, &str); 1] =
    [("recipes-from-each-other-in-two-files", 2, "the files are a circle as well")];

/// Rules of the grammar whose names are also words that the trade or everybody has.
const PLAIN: [&str; 15] = [
    "clock", "close", "comma", "date", "figure", "file", "format", "letter", "parts", "sign", "stray",
    "word", "comment", "fraction", "percent",
];

/// A snapshot has this many lines, besides three of its own.
const LINES_MAX: usize = 37;

/// An example of an error with its report.
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
        let paths = if path.is_dir() { entries(path) } else { vec![path.to_owned()] };
        let own_name = |path: &Path| path.file_name().unwrap().to_str().unwrap().to_owned();
        let mut files: Vec<_> = paths.iter().map(|path| (own_name(path), fs::read(path).unwrap())).collect();
        files.sort_by_key(|(name, _)| name != "main.wet");
        let report = report_on(&files, ONLY_ADVICE.contains(&name.as_str()));
        Fault { name, files, report }
    }

    fn findings(&self) -> Vec<Finding<'_>> {
        findings(&self.report)
    }

    fn errors(&self) -> usize {
        self.findings().iter().filter(|finding| finding.level == "error").count()
    }

    fn is_only_advice(&self) -> bool {
        ONLY_ADVICE.contains(&self.name.as_str())
    }

    /// The text of the snapshot: the files, if they are short enough, and the report.
    fn shown(&self) -> String {
        let mut files = String::new();
        for (name, bytes) in &self.files {
            let head = if self.files.len() == 1 { "the file" } else { name };
            writeln!(files, "--- {head}\n{}", visible(bytes).trim_end()).unwrap();
        }
        let report = format!("--- status {}\n{}", u8::from(!self.is_only_advice()), self.report.trim_end());
        let lines: Vec<&str> = report.lines().collect();
        if files.lines().count() + lines.len() <= LINES_MAX && files.lines().all(|line| line.len() <= 200) {
            files + &report
        } else if let Some(first) = lines.get(..LINES_MAX - 1) {
            format!("{}\n--- and so on: {} errors", first.join("\n"), self.errors())
        } else {
            report
        }
    }
}

/// The report on the first of these files.
fn report_on(files: &[(String, Vec<u8>)], is_only_advice: bool) -> String {
    let (main, text) = files.first().unwrap();
    let mut run = Run::new();
    for (name, bytes) in files {
        run = run.file(name, bytes);
    }
    let text = String::from_utf8_lossy(text);
    let call = text.lines().next().and_then(|line| line.strip_prefix("# ")?.split_once(' '));
    match call.filter(|(command, _)| ["card", "measure", "plan"].contains(command)) {
        Some((command, call)) => {
            // A plan of a list names that; what stands in the file is found by it.
            run = run.arg(command);
            run = if call.contains("--from") { run } else { run.arg(main) };
            let (out, report) = call.split_whitespace().fold(run, |run, arg| run.arg(arg)).fails(1);
            assert_eq!(out, "", "{main} gives a result all the same");
            report
        }
        None if is_only_advice => run.args(["check", main]).succeeds(),
        None => {
            let (report, error) = run.args(["check", main]).fails(1);
            assert_eq!(error, "", "{main} says something on standard error");
            report
        }
    }
}

/// What stands in a folder, in order.
fn entries(folder: &Path) -> Vec<PathBuf> {
    let mut paths: Vec<_> = fs::read_dir(folder).unwrap().map(|entry| entry.unwrap().path()).collect();
    paths.sort();
    paths
}

fn catalogue() -> &'static [Fault] {
    static CATALOGUE: OnceLock<Vec<Fault>> = OnceLock::new();
    CATALOGUE.get_or_init(|| {
        let stages = entries(&Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/faults"));
        let paths: Vec<PathBuf> = stages.iter().flat_map(|stage| entries(stage)).collect();
        let read = |paths: &[PathBuf]| paths.iter().map(|path| Fault::read(path)).collect::<Vec<_>>();
        // All tests here wait for the catalogue, so two threads read it.
        let (one, other) = paths.split_at(paths.len() / 2);
        std::thread::scope(|scope| {
            let other = scope.spawn(|| read(other));
            [read(one), other.join().unwrap()].into_iter().flatten().collect()
        })
    })
}

fn findings(report: &str) -> Vec<Finding<'_>> {
    let mut findings: Vec<Finding<'_>> = Vec::new();
    for line in report.lines() {
        let head = line.split_once("]: ").and_then(|(head, _)| head.split_once('['));
        match head.filter(|(level, _)| ["error", "warning", "advice"].contains(level)) {
            Some((level, name)) => findings.push(Finding { level, name, lines: vec![line] }),
            None => findings.iter_mut().last().into_iter().for_each(|finding| finding.lines.push(line)),
        }
    }
    findings
}

/// A text with its hidden characters written out.
fn visible(bytes: &[u8]) -> String {
    let shows = |c: char| c.is_ascii_graphic() || c.is_alphanumeric() || " \n“”−×°".contains(c);
    let shown = |c: char| if shows(c) { c.to_string() } else { c.escape_default().to_string() };
    String::from_utf8_lossy(bytes).chars().map(shown).collect()
}

/// Fails with all of these, if there is one.
#[track_caller]
fn none(failures: impl IntoIterator<Item = String>) {
    let failures: Vec<_> = failures.into_iter().collect();
    assert!(failures.is_empty(), "\n{}", failures.join("\n"));
}

#[test]
fn every_report_matches_its_snapshot() {
    let mut settings = insta::Settings::clone_current();
    settings.set_omit_expression(true);
    let differs = |fault: &&Fault| {
        let compare = || insta::assert_snapshot!(fault.name.as_str(), fault.shown());
        settings.bind(|| catch_unwind(compare)).is_err()
    };
    none(catalogue().iter().filter(differs).map(|fault| format!("{} has another report", fault.name)));
}

#[test]
fn every_example_of_an_error_is_small() {
    let lines = |fault: &Fault| {
        fault.files.iter().map(|(_, bytes)| bytes.iter().filter(|byte| **byte == b'\n').count()).sum()
    };
    let mut lengths: Vec<usize> = catalogue().iter().map(lines).collect();
    // A darkroom takes so many: a film, a solution, a recipe, a bottle and an evening.
    none(catalogue().iter().filter(|fault| 28 < lines(fault)).map(|fault| format!("{} is long", fault.name)));
    lengths.sort_unstable();
    assert!(lengths.get(lengths.len() / 2).is_some_and(|median| *median <= 10), "{lengths:?}");
    assert!(110 <= lengths.len(), "only {} faults", lengths.len());
}

#[test]
fn every_name_of_a_diagnostic_has_an_example() {
    let on_pages = wetside::check::RULES.iter().map(|rule| rule.name);
    let known = wetside::check::faults().into_iter().chain(wetside::compile::ERRORS.concat());
    let known = known.chain(wetside::measure::ERRORS.concat()).chain(wetside::plan::ERRORS.concat());
    let names: BTreeSet<&str> = known.map(|(name, _)| name).collect();
    let found = catalogue().iter().flat_map(Fault::findings).map(|finding| finding.name);
    let shown: BTreeSet<&str> = found.chain(on_pages).collect();
    let unshown: BTreeSet<&str> = UNSHOWN.iter().map(|(name, _)| *name).collect();
    let missing = names.difference(&shown).copied().filter(|name| wetside::check::rule(name).is_none());
    assert_eq!(missing.collect::<BTreeSet<_>>(), unshown, "what no file and no page of a rule shows");
    none(shown.difference(&names).map(|name| format!("{name} is in no table of faults")));
}

#[test]
fn each_example_has_the_expected_number_of_errors() {
    for name in SEVERAL.iter().map(|(name, ..)| name).chain(&ONLY_ADVICE) {
        assert!(catalogue().iter().any(|fault| fault.name == *name), "there is no fault {name}");
    }
    none(catalogue().iter().filter_map(|fault| {
        let several = SEVERAL.iter().find(|(name, ..)| *name == fault.name).map(|(_, count, _)| *count);
        let expected = several.unwrap_or(usize::from(!fault.is_only_advice()));
        let errors = fault.errors();
        let wrong = errors != expected || fault.findings().is_empty();
        wrong.then(|| format!("{} gives {errors} errors, and {expected} are known", fault.name))
    }));
}

#[test]
fn every_finding_has_help() {
    none(catalogue().iter().flat_map(|fault| {
        let helps = |finding: &Finding<'_>| finding.lines.iter().any(|line| line.contains(" help: "));
        let silent = fault.findings().into_iter().filter(move |finding| !helps(finding));
        silent.map(|finding| format!("{}: {} has no help", fault.name, finding.name))
    }));
}

#[test]
fn no_report_names_a_rule_of_the_grammar() {
    let grammar =
        fs::read_to_string(Path::new(env!("CARGO_MANIFEST_DIR")).join("grammar/wetside.pest")).unwrap();
    let heads = grammar.lines().filter(|line| line.starts_with(|first: char| first.is_ascii_lowercase()));
    let rules: BTreeSet<&str> =
        heads.filter_map(|line| line.split_once(" = ")).map(|(rule, _)| rule).collect();
    none(PLAIN.iter().filter(|word| !rules.contains(*word)).map(|word| format!("{word} is no rule")));
    none(catalogue().iter().flat_map(|fault| {
        let ours = ours(&fault.report);
        let words: BTreeSet<String> = ours
            .split(|letter: char| !(letter.is_alphanumeric() || matches!(letter, '_' | '-')))
            .map(str::to_owned)
            .collect();
        let said = rules.iter().filter(move |rule| words.contains(**rule) && !PLAIN.contains(rule));
        said.map(|rule| format!("{}: a report says '{rule}'", fault.name))
    }));
}

/// What of a report is our own words: no quoted line, no path, and nothing between quotes.
fn ours(report: &str) -> String {
    let quotes = |line: &&str| {
        let start = line.trim_start().trim_start_matches(|letter: char| letter.is_ascii_digit());
        start.starts_with(" : ") || start.starts_with(": ") || start.starts_with("at ")
    };
    let lines: Vec<&str> = report.lines().filter(|line| !quotes(line)).collect();
    lines.join("\n").split('\'').step_by(2).collect()
}

#[test]
fn no_report_has_a_hidden_character() {
    let turns =
        |c: char| matches!(c, '\u{200b}'..='\u{200f}' | '\u{202a}'..='\u{202e}' | '\u{2066}'..='\u{2069}');
    let hidden = |c: char| c.is_control() && c != '\n' || turns(c) || c == '\u{feff}';
    let seen = catalogue().iter().filter(|fault| fault.report.contains(hidden));
    none(seen.map(|fault| format!("{} has one in its report", fault.name)));
}

/// Faults that have nothing to do with each other, each by its name; `|` ends a line.
const APART: [(&str, &str); 10] = [
    ("missing-word", "film ebb-50 {|speed 50|}|"),
    ("unknown-word", "film estuary-400 {|gran tabular|}|"),
    ("missing-unit", "tank tall {|reels 120 x 5, 500 ml each|holds 2.6|}|"),
    ("unit-spelling", "tank twin {|reels 120 x 1, 500 ml each|drain 10 sec|}|"),
    ("ambiguous-unit", "solution pq-borax {|role developer|needs 1/2 pt per roll|}|"),
    ("agitation-over-period", "agitation steady {|then 90 s every 1 min|}|"),
    ("unknown-name", "recipe dusk {|stop {|in citric-stop 1+19|time 1:00|}|}|"),
    ("bad-clock", "recipe dawn {|stop {|in water|time 1:75|}|}|"),
    ("missing-bath", "recipe noon {|stop {|time 1:00|}|}|"),
    ("wet-after-dry", "recipe night {|dry {|time 3 h|}|rest {|time 1:00|}|}|"),
];

#[test]
fn all_errors_are_reported_in_one_run() {
    for count in 1..=APART.len() {
        let (names, texts): (Vec<&str>, Vec<&str>) = APART.iter().take(count).copied().unzip();
        let file =
            ("all.wet".to_owned(), format!("wetside 1||{}", texts.concat()).replace('|', "\n").into_bytes());
        let report = report_on(&[file], false);
        let found: Vec<&str> = findings(&report).iter().map(|finding| finding.name).collect();
        assert_eq!(found, names, "{report}");
    }
}

#[test]
fn the_limits_on_files_parents_and_lines_are_errors() {
    let one = |text: String| vec![("0.wet".to_owned(), format!("wetside 1\n\n{text}").into_bytes())];
    let chain = |number| one(format!("use \"{}.wet\"\n", number + 1)).remove(0).1;
    let files: Vec<_> = (0..18).map(|number| (format!("{number}.wet"), chain(number))).collect();
    let derived = |number| format!("recipe r{} from r{number} {{\nindex 1{number}\n}}\n", number + 1);
    let family: String = (0..33).map(derived).collect();
    let first = "recipe r0 {\n    wash {\n        time      1:00\n    }\n}\n";
    let film = format!("film tide {{\n{}}}\n", "    note      \"cold\"\n".repeat(1001));
    for (files, name, place) in [
        (files, "use-too-many", "16.wet:3:5"),
        (one(format!("{first}{family}")), "from-too-deep", "0.wet:104:1"),
        (one(film), "block-too-long", "0.wet:1004:5"),
    ] {
        let report = report_on(&files, false);
        let found: Vec<&str> = findings(&report).iter().map(|finding| finding.name).collect();
        assert_eq!(found, [name], "{report}");
        assert!(report.contains(place), "{report}");
    }
}

/// Texts in which each slip replaces `@`, with the slips and the right words.
const SLIPS: [(&str, &str); 18] = [
    ("@ tide {|}|", "filim=film soluton=solution agitaton=agitation tnak=tank recpie=recipe Recipe=recipe"),
    ("recipe a {|@ {|}|}|", "devlop=develop presaok=presoak sotp=stop fxi=fix blech=bleach wsah=wash"),
    ("recipe a {|@ {|}|}|", "develope=develop bleachfix=bleach-fix bleach_fix=bleach-fix rinze=rinse"),
    ("recipe a {|stop {|@ 1|}|}|", "tiem=time bewteen=between wihtin=within agitat=agitate lihgt=light"),
    ("recipe a {|stop {|@ 1|}|}|", "handeling=handling chrat=chart cuation=caution clok=clock"),
    ("recipe a {|stop {|in water, @|}|}|", "oneshot=one-shot resued=reused replenised=replenished"),
    ("recipe a {|stop {|time 10 @|}|}|", "sec=s secs=s seconds=s mins=min mni=min hrs=h"),
    ("recipe a {|between 18 @ and 24 C|}|", "c=C degC=C celsius=C celcius=C Fahrenheit=F"),
    ("solution a {|role fixer|@ 1|}|", "fromula=formula contians=contains neeeds=needs treates=treats"),
    ("solution a {|role fixer|@ 1|}|", "extned=extend replinish=replenish keps=keeps"),
    ("solution a {|role @|}|", "develper=developer stabiliser=stabilizer fixr=fixer clearng=clearing"),
    ("solution a {|role fixer|needs 1 @ per roll|}|", "mL=ml mll=ml litre=l us-gall=us-gal imp-pnt=imp-pt"),
    ("solution a {|role fixer|contains @|}|", "sodium-sulphite=sodium-sulfite hydrochinone=hydroquinone"),
    ("solution a {|role fixer|contains @|}|", "sodium-sulfit=sodium-sulfite phenidon=phenidone boraks=borax"),
    ("film a {|@ 1|}|", "grian=grain speeed=speed cleers=clears sourse=source"),
    ("tank a {|@ 1|}|", "reals=reels hold=holds rotery=rotary darin=drain"),
    ("agitation a {|@ 1|}|", "continous=continuous frist=first nock=knock invertion=inversion"),
    ("recipe mq-borax {|}|recipe a from @ {|}|", "mq-boraks=mq-borax mqborax=mq-borax mq_borax=mq-borax"),
];

/// Texts in which each word replaces `@`, with words that are close to no known word.
const STRANGERS: [(&str, &str); 4] = [
    ("recipe a {|@ {|}|}|", "marinade soup burn b"),
    ("recipe a {|stop {|time 10 @|}|}|", "gulps drops sekunden"),
    ("solution a {|role fixer|contains @|}|", "salt aspirin sodium"),
    ("film a {|@ 1|}|", "colour iso dx b"),
];

/// The suggestion for a word, if there is exactly one.
fn suggested(place: &str, word: &str) -> Option<String> {
    let text = format!("wetside 1||{}", place.replace('@', word)).replace('|', "\n");
    // An unknown ingredient is only advice.
    let report = report_on(&[("slip.wet".to_owned(), text.into_bytes())], place.contains("contains @"));
    let findings = findings(&report);
    let unknown = |finding: &&Finding<'_>| {
        finding.name.starts_with("unknown-") || ["missing-word", "unit-spelling"].contains(&finding.name)
    };
    let lines = &findings.iter().find(unknown)?.lines;
    let helps: Vec<_> = lines.iter().filter_map(|line| line.split_once(" help: write ")).collect();
    let [(_, help)] = helps.as_slice() else { return None };
    // A unit follows its number.
    let named = help.trim_start_matches(|letter: char| letter.is_ascii_digit() || letter == ' ');
    (!named.contains(' ')).then(|| named.to_owned())
}

#[test]
fn a_misspelt_word_gets_the_right_suggestion() {
    let (mut slips, mut missed, mut absurd) = (0, Vec::new(), Vec::new());
    for (place, words) in SLIPS {
        for (slip, meant) in words.split_whitespace().filter_map(|pair| pair.split_once('=')) {
            slips += 1;
            match suggested(place, slip) {
                Some(word) if word == meant => {}
                Some(word) => absurd.push(format!("'{slip}' gets the suggestion {word} and not {meant}")),
                None => missed.push(slip),
            }
        }
    }
    for (place, words) in STRANGERS {
        let wrong = words.split_whitespace().filter_map(|word| Some((word, suggested(place, word)?)));
        absurd.extend(
            wrong.map(|(word, other)| format!("'{word}' gets the suggestion {other}, and should get none")),
        );
    }
    none(absurd);
    assert!(60 <= slips, "only {slips} slips");
    assert!(missed.len() * 10 <= slips, "of {slips} slips, these are not known: {missed:?}");
}
