//! The tables of the reference, generated from the vocabulary and from the lists of faults, ranges and formats.

use wetside::check::{RULES, faults};
use wetside::emit::{kinds_with, measured, written};
use wetside::model::{Format, Limit, StepKind, decimal};
use wetside::vocabulary::{
    Block, Kind, NEWER_UNITS, RESERVED, RESERVED_INSIDE, RESERVED_OF_KIND, Row, ambiguities, pattern_text,
    rows, rows_of, units,
};
use wetside::{compile, measure, plan};

/// A generated part of the reference.
pub(super) struct Drawn {
    /// The name of its place on the page: `<!-- drawn: NAME -->`.
    pub(super) name: &'static str,
    /// Markdown; ends with one line ending.
    pub(super) text: String,
}

/// The blocks that have a table of their own; the steps share one.
const BLOCKS: [(&str, Block); 18] = [
    ("file", Block::File),
    ("film", Block::Film),
    ("ingredient", Block::Ingredient),
    ("solution", Block::Solution),
    ("formula", Block::Formula),
    ("agitation", Block::Agitation),
    ("tank", Block::Tank),
    ("recipe", Block::Recipe),
    ("chart", Block::Chart),
    ("trial", Block::Trial),
    ("strip", Block::Strip),
    ("wedge", Block::Wedge),
    ("reader", Block::Reader),
    ("bath", Block::Bath),
    ("test", Block::Test),
    ("session", Block::Session),
    ("backlog", Block::Backlog),
    ("collection", Block::Collection),
];

/// The ranges, in the order of the page.
const LIMITS: [Limit; 12] = [
    Limit::BATH,
    Limit::DIFFERENCE,
    Limit::TIME,
    Limit::CHART_TIME,
    Limit::VOLUME,
    Limit::MASS,
    Limit::PART,
    Limit::INDEX,
    Limit::COUNT,
    Limit::SPEED,
    Limit::FLOW,
    Limit::FACTOR,
];

/// A list that breaks off here goes on in the next line of its text.
const LINE_MAX: usize = 96;

/// Every drawn part, in the order of the page.
pub(super) fn reference() -> Vec<Drawn> {
    let drawn = |name, text| Drawn { name, text };
    let mut all = vec![
        drawn("kinds", kinds()),
        drawn("units", unit_table()),
        drawn("ambiguous", doubtful()),
        drawn("formats", formats()),
        drawn("reserved", reserved()),
        drawn("ranges", ranges()),
    ];
    all.extend(BLOCKS.map(|(name, block)| drawn(name, statements(block))));
    all.push(drawn("step-header", step_header()));
    all.push(drawn("step-kinds", step_kinds()));
    all.push(drawn("step", step_statements()));
    let rules: Vec<(&str, &str)> = RULES.iter().map(|rule| (rule.name, rule.meaning)).collect();
    let told = faults().into_iter().filter(|fault| !rules.contains(fault)).collect::<Vec<_>>();
    all.push(drawn("faults-check", named(&told)));
    all.push(drawn("faults-compile", named(&compile::ERRORS.concat())));
    all.push(drawn("faults-plan", named(&plan::ERRORS.concat())));
    all.push(drawn("faults-measure", named(&measure::ERRORS.concat())));
    let weighed = RULES.iter().map(|rule| vec![code(rule.name), rule.weight(), escaped(rule.meaning)]);
    all.push(drawn("rules", table(&["name", "severity", "reports"], weighed)));
    all
}

/// The statements of a block, but for its steps.
fn statements(block: Block) -> String {
    let here = rows_of(block).filter(|row| !matches!(row.opens, Some(Block::Step(_))));
    table(&["statement", "how often", "meaning", "such as"], here.map(statement))
}

/// What follows the meaning of something that edition 1 lacks.
fn newer(is_newer: bool) -> &'static str {
    if is_newer { "; edition 2" } else { "" }
}

fn statement(row: &Row) -> Vec<String> {
    let often = row.often.word().to_owned();
    vec![code(&written(row)), often, escaped(row.meaning) + newer(row.since > 1), code(row.example)]
}

/// The statements of the steps, each with the kinds of steps that have it.
fn step_statements() -> String {
    let in_step = |block: &Block| matches!(block, Block::Step(_));
    let here = rows().filter(|row| row.blocks.iter().any(in_step)).map(|row| {
        let mut cells = statement(row);
        cells.insert(1, kinds_with(row));
        cells
    });
    table(&["statement", "in", "how often", "meaning", "such as"], here)
}

fn step_rows() -> impl Iterator<Item = (StepKind, &'static Row)> {
    rows_of(Block::Recipe).filter_map(|row| match row.opens {
        Some(Block::Step(kind)) => Some((kind, row)),
        _ => None,
    })
}

/// How any step's header is written.
fn step_header() -> String {
    let pattern = step_rows().next().map_or_else(String::new, |(_, row)| pattern_text(row.takes));
    format!("    {} {pattern} {{\n", Kind::Step.placeholder())
}

fn step_kinds() -> String {
    let cells = step_rows().map(|(kind, row)| {
        let wet = if kind.is_wet() { "yes" } else { "no" };
        let meaning = escaped(row.meaning) + newer(row.since > 1);
        vec![code(kind.word()), meaning, wet.to_owned(), code(row.example)]
    });
    table(&["step", "what happens", "wet", "such as"], cells)
}

/// The kinds of values that some statement takes, in the order of the statements.
fn kinds() -> String {
    let mut lines: Vec<Vec<String>> = Vec::new();
    for kind in rows().flat_map(Row::kinds) {
        let examples = kind.example().replace(", ", "`, `").replace(" or ", "` or `");
        let line = vec![code(kind.placeholder()), kind.words().to_owned(), code(&examples)];
        if !lines.contains(&line) {
            lines.push(line);
        }
    }
    table(&["in a pattern", "means", "such as"], lines)
}

fn unit_table() -> String {
    let cells = units().iter().map(|unit| {
        let (measures, is) = measured(unit);
        vec![code(unit.word), measures.to_owned() + newer(NEWER_UNITS.contains(&unit.word)), is]
    });
    table(&["unit", "measures", "is exactly"], cells)
}

fn doubtful() -> String {
    let cells = ambiguities().map(|(word, readings)| {
        let ways: Vec<String> =
            readings.iter().map(|(unit, words)| format!("{} ({words})", code(unit))).collect();
        vec![code(word), ways.join(" or ")]
    });
    table(&["not let through", "write instead"], cells)
}

fn formats() -> String {
    let further = ["9x12cm", "24x30cm", "16mmx50ft"].into_iter().filter_map(Format::parse);
    let cells = Format::FIRST.into_iter().chain(further).map(|format| {
        let film = decimal(format.area(), Format::ROLL, 4);
        let reel = code(&format.reel().to_string());
        let piece = format!("a {}{}", format.piece(), newer(!Format::FIRST.contains(&format)));
        vec![code(&format.to_string()), piece, film, reel]
    });
    table(&["format", "one is", "film, in rolls of 80 square inches", "goes on the reel of"], cells)
}

fn ranges() -> String {
    let cells = LIMITS.iter().map(|limit| vec![limit.what.to_owned(), limit.words.to_owned()]);
    table(&["what", "may be from"], cells)
}

/// The words that are no names, wrapped.
fn reserved() -> String {
    let words = |words: &[&str]| words.iter().map(|word| code(word)).collect::<Vec<_>>().join(" ");
    let of_kind = RESERVED_OF_KIND.iter().map(|(kind, word)| format!("{} of {}", code(word), kind.words()));
    let of_kind = of_kind.collect::<Vec<_>>().join(" and ");
    let inside = words(RESERVED_INSIDE);
    format!(
        "{}\nNor can {of_kind}, in edition 2.\nSteps, bottles of a solution and baths may have any name but {inside} (edition 2).\n",
        wrapped()
    )
}

fn wrapped() -> String {
    let mut lines = vec![String::new()];
    for word in RESERVED.iter().map(|word| code(word)) {
        match lines.last_mut() {
            Some(line) if line.is_empty() => line.push_str(&word),
            Some(line) if line.len() + word.len() < LINE_MAX => line.push_str(&format!(" {word}")),
            Some(_) | None => lines.push(word),
        }
    }
    lines.join("\n") + "\n"
}

fn named(list: &[(&str, &str)]) -> String {
    let cells = list.iter().map(|(name, meaning)| vec![code(name), escaped(meaning)]);
    table(&["name", "reports"], cells)
}

fn table(heads: &[&str], lines: impl IntoIterator<Item = Vec<String>>) -> String {
    let row = |cells: &[String]| format!("| {} |\n", cells.join(" | "));
    let heads: Vec<String> = heads.iter().map(|head| (*head).to_owned()).collect();
    let rule = format!("|{}\n", " --- |".repeat(heads.len()));
    let lines: String = lines.into_iter().map(|cells| row(&cells)).collect();
    format!("{}{rule}{lines}", row(&heads))
}

/// A text in the letters of code, fit for a cell.
fn code(text: &str) -> String {
    format!("`{}`", escaped(text))
}

/// A stroke would end the cell.
fn escaped(text: &str) -> String {
    text.replace('|', "\\|")
}
