//! The pages of `wetside words`: a list of all words and units, and a page for each. The reference uses the same words.

use super::page::wrap;
use crate::model::{StepKind, Volume, decimal};
use crate::vocabulary::{
    Block, Dimension, Part, Readings, Row, Unit, ambiguities, ambiguous, pattern_text, respelled, rows,
    suggest, units,
};

/// The longest line of a page.
const COLUMNS: usize = 80;
/// The placeholder for several ways to write a statement that do not fit on its line.
const WAY: &str = "WAY";
/// The most kinds of steps that are listed as exceptions.
const FEW: usize = 4;

/// The blocks of the list. All steps share one more.
const BLOCKS: [Block; 12] = [
    Block::File,
    Block::Film,
    Block::Solution,
    Block::Formula,
    Block::Agitation,
    Block::Tank,
    Block::Recipe,
    Block::Chart,
    Block::Bath,
    Block::Test,
    Block::Session,
    Block::Backlog,
];

/// A line for every word, by block, then for every unit.
#[must_use]
pub fn words() -> String {
    let block = |block: &Block| {
        let here = rows().filter(|row| row.blocks.contains(block));
        listed(&format!("in {}", block.words()), here.map(|row| (name(row), row.meaning.to_owned())))
    };
    let mut text: String = BLOCKS.iter().map(block).collect();
    let in_steps = rows().filter(|row| row.blocks.iter().any(is_step));
    text.push_str(&listed("in a step", in_steps.map(|row| (name(row), row.meaning.to_owned()))));
    let unit = |unit: &Unit| {
        let (measures, is) = measured(unit);
        (unit.word.to_owned(), format!("{measures}: {is}"))
    };
    text + listed("units", units().iter().map(unit)).trim_end() + "\n"
}

/// The page of a word or unit. A word inside a statement has the pages of its statements.
///
/// # Errors
/// There is no such word. The error is the nearest word, if there is one.
pub fn word(asked: &str) -> Result<String, Option<&'static str>> {
    let begun: Vec<&Row> = rows().filter(|row| name(row) == asked).collect();
    let held = || rows().filter(|row| row.words().contains(&asked)).collect::<Vec<_>>();
    let mut pages: Vec<String> =
        if begun.is_empty() { held() } else { begun }.into_iter().map(page).collect();
    pages.extend(units().iter().find(|unit| unit.word == asked).map(unit_page));
    pages.extend(ambiguous(asked).map(|readings| ambiguous_page(asked, readings)));
    if pages.is_empty() { Err(nearest(asked)) } else { Ok(pages.join("\n")) }
}

fn nearest(asked: &str) -> Option<&'static str> {
    let mut known: Vec<&'static str> = Vec::new();
    for row in rows() {
        known.extend(Some(row.word).filter(|word| !word.is_empty()));
        known.extend(row.words());
    }
    known.extend(units().iter().map(|unit| unit.word));
    known.extend(ambiguities().map(|(word, _)| word));
    respelled(asked).map(|unit| unit.word).or_else(|| suggest(asked, known))
}

fn listed(title: &str, lines: impl Iterator<Item = (String, String)>) -> String {
    let lines: Vec<(String, String)> = lines.collect();
    let width = lines.iter().map(|(name, _)| name.chars().count()).max().unwrap_or(0);
    let lines: String = lines.iter().map(|(name, words)| format!("  {name:<width$}  {words}\n")).collect();
    format!("{title}\n{lines}\n")
}

/// The name of a statement: its first word, or the pattern of its first value.
fn name(row: &Row) -> String {
    if row.word.is_empty() { pattern_text(row.takes.get(..1).unwrap_or(&[])) } else { row.word.to_owned() }
}

fn page(row: &Row) -> String {
    let mut lines = vec![("used in", place(row)), ("how often", row.often.word().to_owned())];
    let (head, ways) = headed(row);
    lines.extend(std::iter::once(WAY).chain(std::iter::repeat("")).zip(ways));
    for kind in row.kinds() {
        let line = (kind.placeholder(), format!("{}, such as {}", kind.words(), kind.example()));
        if !lines.contains(&line) {
            lines.push(line);
        }
    }
    lines.push(("example", row.example.to_owned()));
    layout(&head, row.meaning, &lines)
}

/// The pattern of a statement, and apart from it its ways, if they do not fit on a line.
fn headed(row: &Row) -> (String, Vec<String>) {
    let line = written(row);
    let [way] = row.takes else { return (line, Vec::new()) };
    if line.chars().count() <= COLUMNS {
        return (line, Vec::new());
    }
    // A way can be a list, with several ways for each of its pieces.
    let ways = if let Part::Either(ways) = way { ways } else { &[][..] };
    let pieces = |way: &&[Part]| match way {
        [Part::List([piece])] => piece.ways(),
        _ => Vec::new(),
    };
    let Some(inner) = ways.iter().map(pieces).find(|pieces| !pieces.is_empty()) else {
        return (format!("{} {WAY}", row.word), way.ways());
    };
    let mut heads = vec![format!("{} {WAY}, …", row.word)];
    let others = ways.iter().filter(|way| pieces(way).is_empty());
    heads.extend(others.map(|way| format!("{} {}", row.word, pattern_text(way))));
    (heads.join("\n"), inner)
}

fn place(row: &Row) -> String {
    let blocks = row.blocks.iter().filter(|block| !is_step(block)).map(|block| block.words().into_owned());
    let mut places: Vec<String> = blocks.collect();
    if row.blocks.iter().any(is_step) {
        places.push(format!("steps: {}", kinds_with(row)));
    }
    places.join(", ")
}

fn unit_page(unit: &Unit) -> String {
    let (measures, is) = measured(unit);
    layout(unit.word, &format!("a unit of {measures}"), &[("is exactly", is)])
}

fn ambiguous_page(word: &str, readings: Readings) -> String {
    let lines: Vec<(&str, String)> =
        readings.iter().map(|(unit, words)| (*unit, (*words).to_owned())).collect();
    layout(word, "can mean several units, so no statement takes it; write instead", &lines)
}

fn layout(head: &str, meaning: &str, lines: &[(&str, String)]) -> String {
    let width = lines.iter().map(|(name, _)| name.len()).max().unwrap_or(0);
    let line = |(name, words): &(&str, String)| format!("  {name:<width$}  {}\n", broken(words, width + 4));
    let lines: String = lines.iter().map(line).collect();
    format!("{head}\n  {}\n\n{lines}", broken(meaning, 2))
}

/// Wrapped text that is indented from its second line on.
fn broken(words: &str, indent: usize) -> String {
    let lines = wrap(words, COLUMNS.saturating_sub(indent));
    lines.join(&format!("\n{:indent$}", "")).replace('\u{a0}', " ")
}

fn is_step(block: &Block) -> bool {
    matches!(block, Block::Step(_))
}

/// The kinds of steps that take a statement.
#[must_use]
pub fn kinds_with(row: &Row) -> String {
    let has = |kind: &StepKind| row.blocks.contains(&Block::Step(*kind));
    let (with, without): (Vec<StepKind>, Vec<StepKind>) = StepKind::ALL.into_iter().partition(has);
    let words = |kinds: &[StepKind]| kinds.iter().map(|kind| kind.word()).collect::<Vec<_>>().join(", ");
    match without.len() {
        0 => "every step".to_owned(),
        1..=FEW => format!("all but {}", words(&without)),
        _ => words(&with),
    }
}

/// The pattern of a statement.
#[must_use]
pub fn written(row: &Row) -> String {
    let brace = if row.opens.is_some() { " {" } else { "" };
    row.text() + brace
}

/// The dimension of a unit, and its size in a common unit.
#[must_use]
pub fn measured(unit: &Unit) -> (&'static str, String) {
    let of = |base: i64, word: &str| format!("{} {word}", decimal(unit.factor, base, 12));
    match unit.dimension {
        Dimension::Time => ("a time", of(1_000, "s")),
        Dimension::Keeping => ("how long a solution keeps", "itself, by the calendar".to_owned()),
        Dimension::Temperature if unit.word == "F" => {
            ("a temperature", "(F - 32) x 5/9 °C; of a difference 5/9 °C".to_owned())
        }
        Dimension::Temperature => ("a temperature", "1 °C".to_owned()),
        Dimension::Volume => ("a volume", of(Volume::ML, "ml")),
        Dimension::Mass => ("a mass", of(1_000_000_000_000, "g")),
        Dimension::MassPerLitre => ("a mass in each litre", of(1_000_000_000_000, "g")),
        Dimension::VolumePerLitre => ("a volume in each litre", of(Volume::ML, "ml")),
        Dimension::Flow => ("running water", of(Volume::ML, "ml a minute")),
        Dimension::Turning => ("a drum's speed", "1 turn a minute".to_owned()),
    }
}
