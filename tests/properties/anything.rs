//! Any text becomes a tree with every byte of it, every error has help, and nothing panics.

use proptest::prelude::*;
use wetside::check;
use wetside::emit;
use wetside::source::{Diagnostic, Level, Sources, Span};
use wetside::syntax::{Tree, parse};
use wetside::vocabulary::{rows, units};

use super::recipe::{METRIC, draft};
use super::tried;
use crate::kitchen::{Kitchen, celsius, evening};

/// Pieces with a meaning in the language, pieces that resemble them, and control characters.
const PIECES: &[&str] = &[
    " ",
    " ",
    " ",
    "\n",
    "\n",
    "\n",
    "\r\n",
    "\r",
    "\t",
    "{",
    "}",
    " {\n",
    "\n}\n",
    ",",
    "%",
    "#",
    "# a comment\n",
    "\"",
    "\"a title\"",
    "\"no end\n",
    "wetside 1\n",
    "use \"shelf.wet\"\n",
    "20",
    "2.5",
    "-40",
    "+3",
    "-",
    "+",
    ".",
    ":",
    "10:15",
    "1:02:30",
    "1:4",
    "99:99",
    "1+4",
    "1+9+40",
    "0+0",
    "1/4",
    "1/0",
    "10 1/4 min",
    "2026-11-25",
    "2026-99-99",
    "4x5in",
    "135-24",
    "120 x 5",
    "999999999999",
    "9999999999999999999999",
    "0.000000000001",
    "20 C",
    "68 F",
    "20°C",
    "-300 C",
    "stock",
    "water",
    "from",
    "before",
    "estuary-400",
    "evening",
    "Estuary",
    "tide_mill",
    "é",
    "Ж",
    "水",
    "🎞",
    "\u{202e}",
    "\u{feff}",
    "\u{0}",
    "\u{1b}[31m",
    "\u{200b}",
    "\u{a0}",
    "\u{fffd}",
    "°",
    "½",
];

/// A word of the language, a unit, or one of the pieces.
fn piece() -> impl Strategy<Value = String> {
    let words: Vec<&str> = rows().map(|row| row.word).collect();
    let units: Vec<&str> = units().iter().map(|unit| unit.word).collect();
    let of = |words: Vec<&'static str>| prop::sample::select(words).prop_map(|word| format!("{word} "));
    prop_oneof![3 => prop::sample::select(PIECES).prop_map(str::to_owned), 2 => of(words), 1 => of(units)]
}

/// Random bytes, random characters, or random pieces.
fn text() -> impl Strategy<Value = String> {
    prop_oneof![
        prop::collection::vec(any::<u8>(), 0..300)
            .prop_map(|bytes| String::from_utf8_lossy(&bytes).into_owned()),
        prop::collection::vec(any::<char>(), 0..120).prop_map(|letters| letters.into_iter().collect()),
        prop::collection::vec(piece(), 0..120).prop_map(|pieces| pieces.concat()),
    ]
}

/// A slip: the index of a word, the kind of change, and a piece to insert.
type Slip = (usize, u8, String);

/// A sound recipe with some random slips.
fn draft_with_slips() -> impl Strategy<Value = String> {
    let slips = prop::collection::vec((any::<usize>(), 0_u8..5, piece()), 1..6);
    (draft(), slips).prop_map(|(draft, slips)| with_slips(&draft.text(METRIC), &slips))
}

fn with_slips(text: &str, slips: &[Slip]) -> String {
    let mut words: Vec<String> = text.split_inclusive(char::is_whitespace).map(str::to_owned).collect();
    for (at, slip, piece) in slips {
        let at = at % words.len();
        let other = (at * 7 + 1) % words.len();
        match slip {
            0 => drop(words.remove(at)),
            1 => words.insert(at, words.get(at).unwrap().clone()),
            2 => words.insert(at, piece.clone()),
            3 => words.swap(at, other),
            _ => piece.clone_into(words.get_mut(at).unwrap()),
        }
    }
    words.concat()
}

fn is_place(text: &str, span: Span) -> bool {
    text.get(span.range()).is_some()
}

/// The differences between a tree and its text.
fn tree_defects(tree: &Tree, text: &str) -> Vec<String> {
    let mut faults = Vec::new();
    let mut byte = 0;
    let mut tokens = 0;
    for line in &tree.lines {
        if line.bytes.start != byte || line.tokens.start != tokens {
            faults.push(format!("a line from {} where {byte} is next", line.bytes.start));
        }
        (byte, tokens) = (line.bytes.end, line.tokens.end);
        let pieces = tree.tokens.get(line.tokens.clone()).unwrap();
        let mut at = line.bytes.start;
        for span in pieces.iter().map(|token| token.span).chain(line.comment) {
            let gap = text.get(at as usize..span.start as usize);
            if gap.is_none_or(|gap| gap.contains(|letter| letter != ' ' && letter != '\t')) {
                faults.push(format!("between {at} and {}: {gap:?}", span.start));
            }
            if span.end <= span.start || !is_place(text, span) {
                faults.push(format!("no piece from {} to {}", span.start, span.end));
            }
            at = span.end;
        }
        let rest =
            text.get(at as usize..line.bytes.end as usize).map(|rest| rest.trim_start_matches([' ', '\t']));
        if !matches!(rest, Some("" | "\n" | "\r\n")) {
            faults.push(format!("a line that ends in {rest:?}"));
        }
    }
    if byte as usize != text.len() || tokens != tree.tokens.len() {
        faults.push(format!("{byte} bytes of {}, {tokens} pieces of {}", text.len(), tree.tokens.len()));
    }
    faults
}

/// The defects of diagnostics: a span outside the text, an unknown name, a missing message or help.
fn diagnostic_defects(findings: &[Diagnostic], sources: &Sources) -> Vec<String> {
    let known: Vec<&str> = check::faults().iter().map(|(name, _)| *name).collect();
    let mut faults = Vec::new();
    for finding in findings {
        let edits = finding.fixes.iter().flat_map(|fix| fix.edits.iter().map(|edit| edit.span));
        let places = finding.others.iter().map(|(span, _)| *span).chain(edits);
        for span in std::iter::once(finding.span).chain(places) {
            if !is_place(sources.text(span.file), span) {
                faults.push(format!("{} at no place: {span:?}", finding.name));
            }
        }
        let helped = finding.help.iter().all(|help| !help.trim().is_empty()) && !finding.help.is_empty();
        if finding.level == Level::Error && !helped {
            faults.push(format!("{} without help: {}", finding.name, finding.message));
        }
        if finding.message.trim().is_empty() || !known.contains(&finding.name) {
            faults.push(format!("'{}' is not known: {}", finding.name, finding.message));
        }
    }
    faults
}

/// Checks a text, compiles its sound recipe, and returns the defects of the diagnostics.
fn check_defects(text: &str) -> Vec<String> {
    let kitchen = Kitchen::of(text);
    let mut faults = diagnostic_defects(&kitchen.findings, &kitchen.sources);
    if !kitchen.findings.is_sorted_by(|one, next| one.sort_key() <= next.sort_key()) {
        faults.push("the findings are not in the order of the text".to_owned());
    }
    let report = kitchen.report(&kitchen.findings);
    if report.is_empty() != kitchen.findings.is_empty() || report.contains(['\u{1b}', '\u{202e}', '\u{0}']) {
        faults.push(format!("a report that misleads: {report:?}"));
    }
    let conditions = evening(celsius("20"), &[(2, wetside::model::Format::F120)]);
    if kitchen.shelf.recipes.iter().any(|recipe| recipe.film.is_some()) {
        match kitchen.tried(&conditions) {
            Ok(schedule) => {
                let json: Result<serde_json::Value, _> =
                    serde_json::from_str(&emit::json(&schedule, &kitchen.sources));
                faults.extend(json.err().map(|error| error.to_string()));
            }
            Err(told) => {
                let helpless = told.iter().filter(|fault| fault.help.is_empty());
                faults.extend(helpless.map(|fault| format!("{} without help", fault.name)));
            }
        }
    }
    faults
}

proptest! {
    #![proptest_config(tried(300))]

    #[test]
    fn any_text_becomes_a_tree_with_every_byte(text in text()) {
        let mut sources = Sources::default();
        let file = sources.add("any.wet", text.as_str());
        let (tree, findings) = parse(&sources, file);
        prop_assert_eq!(tree_defects(&tree, &text), Vec::<String>::new());
        prop_assert_eq!(diagnostic_defects(&findings, &sources), Vec::<String>::new());
    }

    #[test]
    fn any_text_is_checked_and_every_error_has_help(text in text()) {
        prop_assert_eq!(check_defects(&text), Vec::<String>::new());
        prop_assert_eq!(check_defects(&format!("wetside 1\n{text}")), Vec::<String>::new());
    }
}

proptest! {
    #![proptest_config(tried(200))]

    #[test]
    fn every_error_in_a_recipe_with_random_slips_has_help(text in draft_with_slips()) {
        prop_assert_eq!(check_defects(&text), Vec::<String>::new(), "{}", text);
    }
}
