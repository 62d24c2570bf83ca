//! Hover and inlay hints: words, names, temperatures, dilutions and charts.

use serde_json::{Value, json};

use super::layout::Lines;
use super::view::{LISTED_MAX, View};
use crate::check::{Declaration, Names};
use crate::compile::whole_degrees;
use crate::model::{Chart, Dilution, Temperature, coefficient, decimal};
use crate::report::sanitise;
use crate::source::{FileId, Span};
use crate::vocabulary::Declared;

/// One litre, in tenths of a millilitre.
const LITRE: u64 = 10_000;

/// The hover text for a position. It is plain text, so that the editor does not read a title as Markdown.
pub(super) fn hover(view: &View, at: Span) -> Option<Value> {
    let temperature = view.survey.temperatures.iter().find(|(span, _)| span.holds(at));
    let dilution = view.survey.dilutions.iter().find(|(span, _)| span.holds(at));
    let line = view.range(at).start.line;
    let chart = view.survey.charts.iter().find(|(span, _)| {
        let range = view.range(*span);
        span.file == at.file && range.start.line <= line && line < range.end.line
    });
    let found: Vec<(Span, String)> = [
        name(view, at),
        temperature.map(|(span, temperature)| {
            (*span, format!("{} °C = {} °F", temperature.in_celsius(2), temperature.in_fahrenheit(1)))
        }),
        dilution.map(|(span, dilution)| (*span, for_a_litre(dilution))),
        word(view, at),
        chart.map(|(span, chart)| (*span, times(chart))),
    ]
    .into_iter()
    .flatten()
    .collect();
    let range = view.range(found.first()?.0);
    let words: Vec<String> = found.into_iter().map(|(_, words)| words).collect();
    let value = sanitise(&words.join("\n\n")).into_owned();
    Some(json!({ "contents": { "kind": "plaintext", "value": value }, "range": range }))
}

/// The inlay hints in a range: each temperature in the other unit, °C or °F.
pub(super) fn hints(view: &View, asked: Span) -> Vec<Value> {
    let within = |span: Span| span.file == asked.file && asked.start <= span.end && span.end <= asked.end;
    let own = view.survey.temperatures.iter().filter(|(span, _)| within(*span));
    let hint = |(span, temperature): &(Span, Temperature)| {
        let label = match view.sources.slice(*span).ends_with('F') {
            true => format!("{} °C", temperature.in_celsius(1)),
            false => format!("{} °F", temperature.in_fahrenheit(1)),
        };
        json!({ "position": view.range(*span).end, "label": label, "paddingLeft": true })
    };
    own.map(hint).take(LISTED_MAX).collect()
}

fn name(view: &View, at: Span) -> Option<(Span, String)> {
    let names = &view.survey.names;
    let mention = names.mentions.iter().find(|mention| mention.span.holds(at));
    let used = names.uses.iter().find(|used| used.is_collection && used.path.holds(at));
    let (place, known) = match (mention, used) {
        (Some(mention), _) => (mention.span, names.declarations.get(mention.declaration)?),
        (None, Some(used)) => (used.path, collection(names, used.file)?),
        (None, None) => {
            let known = names.declarations.iter().find(|known| known.span.holds(at))?;
            (known.span, known)
        }
    };
    let title = known.title.as_deref().unwrap_or(&known.name);
    let (file, line) = (view.sources.name(known.span.file), view.sources.place(known.span).line);
    let header = view.sources.slice(known.header);
    let deprecated =
        known.deprecated.as_ref().map(|reason| format!("\ndeprecated: {reason}")).unwrap_or_default();
    Some((place, format!("{title}\n{header}\n{file}:{line}{deprecated}")))
}

/// The `collection` declaration in this file, which makes the file's folder a collection.
fn collection(names: &Names, file: FileId) -> Option<&Declaration> {
    names.declarations.iter().find(|known| known.kind == Declared::Collection && known.span.file == file)
}

fn word(view: &View, at: Span) -> Option<(Span, String)> {
    let lines = Lines::of(&view.sources, at.file);
    let number = lines.at(at.start);
    let first = lines.tokens(number).first().filter(|first| first.span.holds(at))?;
    let row = lines.row(number).filter(|row| !row.word.is_empty())?;
    let brace = if row.opens.is_some() { " {" } else { "" };
    Some((first.span, format!("{}{brace}\n{}\nsuch as: {}", row.text(), row.meaning, row.example)))
}

/// The volumes to mix for 1 l of a dilution, rounded to 0.1 ml. The last volume is the rest of the litre.
fn for_a_litre(dilution: &Dilution) -> String {
    let whole = u64::from(dilution.whole()).max(1);
    let ml = |tenths: u64| format!("{} ml", decimal(i64::try_from(tenths).unwrap_or(i64::MAX), 10, 1));
    let (mut left, mut parts) = (LITRE, Vec::new());
    for (at, part) in (1..).zip(&dilution.parts) {
        let is_last = dilution.water == 0 && at == dilution.parts.len();
        let rounded = (2 * LITRE * u64::from(*part) + whole) / (2 * whole);
        let share = if is_last { left } else { rounded.min(left) };
        left -= share;
        let bottle = if dilution.parts.len() == 1 { String::new() } else { format!(" of bottle {at}") };
        parts.push(ml(share) + &bottle);
    }
    if dilution.water > 0 {
        parts.push(ml(left) + " water");
    }
    format!("for 1 l: {}", parts.join(" + "))
}

fn times(chart: &Chart) -> String {
    let coefficient =
        coefficient(chart).map(|one| format!("coefficient {} per 10 °C", decimal(one.stated, 100, 2)));
    let degrees = whole_degrees(chart);
    let times = degrees.iter().map(|(at, time)| format!("{} °C  {time}", at.in_celsius(0)));
    coefficient.into_iter().chain(times).collect::<Vec<String>>().join("\n")
}
