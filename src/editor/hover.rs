//! Hover: the meaning of a word, the declaration of a name, a temperature in both units, a dilution for a litre, and
//! the times of a chart.

use gen_lsp_types::HoverParams;
use serde_json::{Value, json};

use super::refusal::Refusal;
use super::standing::Shape;
use super::view::{View, touches};
use crate::compile::{steepness, whole_degrees};
use crate::model::{Chart, Dilution, Temperature, decimal};
use crate::report::sanitise;
use crate::source::{FileId, Span};
use crate::vocabulary::Row;

/// Ten parts of a millilitre in a litre.
const LITRE: u64 = 10_000;

/// The hover text at a position, as plain text, so that no title is drawn as markup.
pub(super) fn answer(view: &View, params: &HoverParams) -> Result<Value, Refusal> {
    let (file, byte) = view.place(&params.text_document_position_params)?;
    let mut said: Vec<(Span, String)> = Vec::new();
    said.extend(name(view, file, byte));
    let here = |span: &Span| touches(*span, file, byte);
    let warmth = view.survey.temperatures.iter().find(|(span, _)| here(span));
    said.extend(warmth.map(|(span, temperature)| (*span, both_units(*temperature))));
    let strength = view.survey.dilutions.iter().find(|(span, _)| here(span));
    said.extend(strength.map(|(span, dilution)| (*span, for_a_litre(dilution))));
    said.extend(word(view, file, byte));
    let line = view.range(Span { file, start: byte, end: byte }).start.line;
    let drawn = view.survey.charts.iter().find(|(span, _)| {
        let range = view.range(*span);
        span.file == file && range.start.line <= line && line < range.end.line
    });
    said.extend(drawn.map(|(span, chart)| (*span, times(chart))));
    let Some((span, _)) = said.first() else { return Ok(Value::Null) };
    let range = view.range(*span);
    let words: Vec<String> = said.into_iter().map(|(_, words)| words).collect();
    let value = sanitise(&words.join("\n\n")).into_owned();
    Ok(json!({ "contents": { "kind": "plaintext", "value": value }, "range": range }))
}

/// A name's title and the line of its declaration.
fn name(view: &View, file: FileId, byte: u32) -> Option<(Span, String)> {
    let names = &view.survey.names;
    let mention = names.mentions.iter().find(|mention| touches(mention.span, file, byte));
    let own = names.declarations.iter().find(|known| touches(known.span, file, byte));
    let (span, known) = match mention {
        Some(mention) => (mention.span, names.declarations.get(mention.declaration)?),
        None => own.map(|own| (own.span, own))?,
    };
    let title = known.title.as_deref().unwrap_or(&known.name);
    let place = view.sources.place(known.span);
    let declared = format!("{}:{}", view.sources.name(known.span.file), place.line);
    Some((span, format!("{title}\n{}\n{declared}", view.sources.slice(known.header))))
}

fn word(view: &View, file: FileId, byte: u32) -> Option<(Span, String)> {
    let shape = Shape::of(&view.sources, file);
    let line = shape.line_at(byte);
    let first = shape.pieces(line).first().filter(|first| touches(first.span, file, byte))?;
    let row = shape.row(line).filter(|row| !row.word.is_empty())?;
    Some((first.span, meaning(row)))
}

fn meaning(row: &Row) -> String {
    let brace = if row.opens.is_some() { " {" } else { "" };
    format!("{}{brace}\n{}\nsuch as: {}", row.text(), row.meaning, row.example)
}

/// A temperature in both units.
pub(super) fn both_units(temperature: Temperature) -> String {
    format!("{} °C = {} °F", temperature.in_celsius(2), temperature.in_fahrenheit(1))
}

/// The parts of a dilution for a litre, to 0.1 ml; the last is the rest, so that they add up.
fn for_a_litre(dilution: &Dilution) -> String {
    let whole = u64::from(dilution.whole()).max(1);
    let mut left = LITRE;
    let mut parts: Vec<String> = Vec::new();
    for (at, part) in dilution.parts.iter().enumerate() {
        let share = (2 * LITRE * u64::from(*part) + whole) / (2 * whole);
        let is_last = dilution.water == 0 && at + 1 == dilution.parts.len();
        let share = if is_last { left } else { share.min(left) };
        left -= share;
        let bottle = if dilution.parts.len() == 1 { String::new() } else { format!(" of bottle {}", at + 1) };
        parts.push(format!("{} ml{bottle}", tenths(share)));
    }
    if dilution.water > 0 {
        parts.push(format!("{} ml water", tenths(left)));
    }
    format!("for 1 l: {}", parts.join(" + "))
}

fn tenths(amount: u64) -> String {
    decimal(i64::try_from(amount).unwrap_or(i64::MAX), 10, 1)
}

/// A chart's coefficient, and its times at whole degrees.
fn times(chart: &Chart) -> String {
    let mut lines = Vec::new();
    if let Some(hundredths) = steepness(chart) {
        lines.push(format!("coefficient {} per 10 °C", decimal(hundredths, 100, 2)));
    }
    let degrees = whole_degrees(chart);
    lines.extend(degrees.iter().map(|(at, time)| format!("{} °C  {time}", at.in_celsius(0))));
    lines.join("\n")
}
