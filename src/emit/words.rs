//! The pages of `wetside words`: a list of all words and units, and a page for each.

use super::plain::{joined, table, widest, wrap};
use crate::model::{StepKind, Volume, decimal};
use crate::source::Set;
use crate::vocabulary::{
    Block, Kind, Part, Readings, Row, Unit, ambiguities, ambiguous, pattern_text, respelled, rows, suggest,
    units,
};

const COLUMNS: usize = 80;
/// The word that replaces the alternatives in a long pattern. They are listed below the pattern.
const WAY: &str = "WAY";
/// The most kinds of steps that are listed as exceptions, as in `all but wash, dry`.
const FEW: usize = 4;

/// A line for each word, grouped by block, and then a line for each unit. All kinds of steps count as one block.
pub fn words() -> String {
    let list = |title: &str, wanted: &dyn Fn(&Block) -> bool| {
        let here = rows().filter(|row| row.blocks.iter().any(wanted));
        listed(title, here.map(|row| [name(row), row.meaning.to_owned()]))
    };
    let blocks: Set<&Block> = rows().flat_map(|row| row.blocks).filter(|block| !is_step(block)).collect();
    let in_blocks =
        blocks.into_iter().map(|block| list(&format!("in {}", block.words()), &|own| own == block));
    let unit = |unit: &Unit| {
        let (measures, is) = measured(unit);
        [unit.word.to_owned(), format!("{measures}: {is}")]
    };
    let lists = in_blocks.chain([list("in a step", &is_step), listed("units", units().iter().map(unit))]);
    joined(lists, "\n")
}

/// The page of a word or unit. If no statement begins with the word, the pages of all statements that contain it.
///
/// # Errors
///
/// The language does not have the word. The error holds a known word with similar spelling, if any.
pub fn word(asked: &str) -> Result<String, Option<&'static str>> {
    let mut pages: Vec<String> = rows().filter(|row| name(row) == asked).map(page).collect();
    if pages.is_empty() {
        pages = rows().filter(|row| row.words().contains(&asked)).map(page).collect();
    }
    pages.extend(units().iter().find(|unit| unit.word == asked).map(unit_page));
    pages.extend(ambiguous(asked).map(|readings| ambiguous_page(asked, readings)));
    if pages.is_empty() { Err(nearest(asked)) } else { Ok(pages.join("\n")) }
}

fn nearest(asked: &str) -> Option<&'static str> {
    let of_rows = rows().flat_map(|row| std::iter::once(row.word).chain(row.words()));
    let of_units = units().iter().map(|unit| unit.word).chain(ambiguities().map(|(word, _)| word));
    let known = of_rows.filter(|word| !word.is_empty()).chain(of_units);
    respelled(asked).map(|unit| unit.word).or_else(|| suggest(asked, known))
}

fn listed(title: &str, lines: impl Iterator<Item = [String; 2]>) -> String {
    let lines = table(&lines.collect::<Vec<_>>());
    let lines: String = lines.iter().map(|line| format!("  {}\n", line.trim_end())).collect();
    format!("{title}\n{lines}")
}

/// The first word of a statement. If the statement begins with a value, the pattern of that value.
fn name(row: &Row) -> String {
    if row.word.is_empty() { pattern_text(row.takes.get(..1).unwrap_or(&[])) } else { row.word.to_owned() }
}

fn page(row: &Row) -> String {
    let mut lines = vec![("used in", place(row)), ("how often", row.often.word().to_owned())];
    if row.since > 1 {
        lines.push(("since", format!("edition {}", row.since)));
    }
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

/// The pattern of a statement, and an empty list. If the pattern is too long for a line, [`WAY`] replaces its
/// alternatives, which are then in the list.
fn headed(row: &Row) -> (String, Vec<String>) {
    let line = written(row);
    if line.chars().count() <= COLUMNS {
        return (line, Vec::new());
    }
    let way = match row.takes {
        [way] => way,
        [way @ Part::Either(_), rest @ ..] => {
            return (format!("{} {WAY} {}", row.word, pattern_text(rest)), way.ways());
        }
        _ => return (line, Vec::new()),
    };
    // An alternative can itself contain alternatives.
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
    let (steps, blocks): (Vec<&Block>, Vec<&Block>) = row.blocks.iter().partition(|block| is_step(block));
    let steps = (!steps.is_empty()).then(|| format!("steps: {}", kinds_with(row)));
    let blocks = blocks.into_iter().map(|block| block.words().into_owned());
    joined(blocks.chain(steps), ", ")
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
    let width = widest(lines.iter().map(|(name, _)| name));
    let line = |(name, words): &(&str, String)| format!("  {name:<width$}  {}\n", broken(words, width + 4));
    let lines: String = lines.iter().map(line).collect();
    format!("{head}\n  {}\n\n{lines}", broken(meaning, 2))
}

fn broken(words: &str, indent: usize) -> String {
    let lines = wrap(words, COLUMNS.saturating_sub(indent));
    lines.join(&format!("\n{:indent$}", "")).replace('\u{a0}', " ")
}

fn is_step(block: &Block) -> bool {
    matches!(block, Block::Step(_))
}

/// The kinds of steps in which a statement may stand: `develop, fix`, `all but dry`, `every step`.
pub fn kinds_with(row: &Row) -> String {
    let has = |kind: &StepKind| row.blocks.contains(&Block::Step(*kind));
    let (with, without): (Vec<StepKind>, Vec<StepKind>) = StepKind::ALL.into_iter().partition(has);
    let words = |kinds: &[StepKind]| joined(kinds.iter().map(|kind| kind.word()), ", ");
    match without.len() {
        0 => "every step".to_owned(),
        1..=FEW => format!("all but {}", words(&without)),
        _ => words(&with),
    }
}

/// The pattern of a statement, followed by `{` if the statement opens a block.
pub fn written(row: &Row) -> String {
    let brace = if row.opens.is_some() { " {" } else { "" };
    row.text() + brace
}

/// What a unit measures, and the unit's size in a common unit: `a volume`, `29.5735295625 ml`.
pub fn measured(unit: &Unit) -> (&'static str, String) {
    let of = |base: i64, word: &str| format!("{} {word}", decimal(unit.factor, base, 12));
    match unit.kind {
        Kind::Time => ("a time", of(1_000, "s")),
        Kind::Keeping => ("how long a solution keeps", "itself, by the calendar".to_owned()),
        Kind::Temperature if unit.word == "F" => {
            ("a temperature", "(F - 32) x 5/9 °C; of a difference 5/9 °C".to_owned())
        }
        Kind::Temperature => ("a temperature", "1 °C".to_owned()),
        Kind::Volume => ("a volume", of(Volume::ML, "ml")),
        Kind::Mass => ("a mass", of(1_000_000_000_000, "g")),
        Kind::Strength if unit.word == "ml/l" => ("a volume in each litre", of(Volume::ML, "ml")),
        Kind::Strength => ("a mass in each litre", of(1_000_000_000_000, "g")),
        Kind::Flow => ("running water", of(Volume::ML, "ml a minute")),
        _ => ("a drum's speed", "1 turn a minute".to_owned()),
    }
}
