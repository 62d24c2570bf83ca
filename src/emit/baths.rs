//! The bottles of a darkroom on a day, as a table and as JSON, held to `grammar/baths.schema.json`.

use super::object::{Object, list, ml};
use super::plain::plain;
use crate::journal::{Capacity, Standing, Verdict};
use crate::model::{Date, decimal};

const HEAD: [&str; 9] =
    ["bath", "in it", "made", "treated", "left", "age", "keeps until", "clears in", "verdict"];

/// A table with a row for each bottle. Film is in rolls of 80 square inches (R12).
#[must_use]
pub fn baths(all: &[Standing<'_>], on: Date) -> String {
    if all.is_empty() {
        return format!("no bath is in use on {on}\n");
    }
    let rows: Vec<[String; 9]> = [HEAD.map(str::to_owned)].into_iter().chain(all.iter().map(row)).collect();
    let mut widths = [0; HEAD.len()];
    for row in &rows {
        for (width, cell) in widths.iter_mut().zip(row) {
            *width = cell.chars().count().max(*width);
        }
    }
    let mut text = String::new();
    for row in &rows {
        let mut line = String::new();
        for (cell, width) in row.iter().zip(widths) {
            line.push_str(&format!("{cell:width$}  "));
        }
        text.push_str(line.trim_end());
        text.push('\n');
    }
    text
}

fn row(one: &Standing<'_>) -> [String; 9] {
    let bath = one.bath;
    let unsaid = || "-".to_owned();
    let days = one.age();
    [
        plain(&bath.name),
        format!("{} {}", plain(&bath.solution.name), bath.dilution),
        bath.mixed.value.to_string(),
        match one.capacity {
            Some(capacity) => format!("{} of {}", rolls(one.treated), rolls(capacity.twelfths())),
            None => rolls(one.treated),
        },
        one.left_after(0).map_or_else(unsaid, rolls),
        if days == 1 { "1 day".to_owned() } else { format!("{days} days") },
        one.keeps_until.map_or_else(unsaid, |until| until.to_string()),
        match one.cleared.map(|cleared| (cleared.test.time.value, cleared.fresh)) {
            Some((now, Some(fresh))) => format!("{now}, fresh {}", fresh.time),
            Some((now, None)) => now.to_string(),
            None => unsaid(),
        },
        one.verdict().words().to_owned(),
    ]
}

/// Twelfths of a roll as rolls, to two places.
fn rolls(twelfths: i64) -> String {
    decimal(twelfths, 12, 2)
}

/// The bottles as one indented JSON object. Film is in twelfths of a roll.
#[must_use]
pub fn baths_json(all: &[Standing<'_>], on: Date) -> String {
    Object::new().put("baths", 1u32).put("on", on.to_string()).put("bottles", list(all, bottle)).text()
}

fn bottle(one: &Standing<'_>) -> Object {
    let bath = one.bath;
    let tested = one.cleared.map(|cleared| {
        Object::new()
            .put("test", plain(&cleared.test.name))
            .put("date", cleared.test.date.value.to_string())
            .put("film", plain(&cleared.test.film.name))
            .put("clears_ms", cleared.test.time.value.ms)
            .put("fresh_ms", cleared.fresh.map(|fresh| fresh.time.ms))
    });
    let verdict = match one.verdict() {
        Verdict::Discarded => "discarded",
        Verdict::ClearsTooSlowly => "clears-too-slowly",
        Verdict::Spent => "spent",
        Verdict::PastKeeping => "past-keeping",
        Verdict::NearlySpent => "nearly-spent",
        Verdict::Good => "good",
    };
    Object::new()
        .put("name", plain(&bath.name))
        .put("title", plain(&bath.title))
        .put("solution", plain(&bath.solution.name))
        .put("dilution", bath.dilution.to_string())
        .put("volume_ml", ml(bath.volume.value))
        .put("mixed", bath.mixed.value.to_string())
        .put("discarded", bath.discarded.map(|discarded| discarded.value.to_string()))
        .put("age_days", one.age())
        .put("keeps_until", one.keeps_until.map(|until| until.to_string()))
        .put("treated_twelfths", one.treated)
        .put("capacity_twelfths", one.capacity.map(Capacity::twelfths))
        .put("left_twelfths", one.left_after(0))
        .put("tested", tested)
        .put("verdict", verdict)
}
