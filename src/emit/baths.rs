//! The bottles of a darkroom on a day: as a table for people, and as JSON, held to
//! `grammar/baths.schema.json`.

use serde::Serialize;

use super::plain::plain;
use crate::journal::{Standing, Verdict};
use crate::model::{Date, decimal};

const HEAD: [&str; 9] =
    ["bath", "in it", "made", "treated", "left", "age", "keeps until", "clears in", "verdict"];

/// The table: a row a bottle, rolls of 80 square inches (R12), each column as wide as it needs.
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

#[derive(Serialize)]
struct BathsOut {
    baths: u32,
    on: String,
    bottles: Vec<BottleOut>,
}

#[derive(Serialize)]
struct BottleOut {
    name: String,
    title: String,
    solution: String,
    dilution: String,
    volume_ml: serde_json::Number,
    mixed: String,
    #[serde(skip_serializing_if = "Option::is_none")]
    discarded: Option<String>,
    age_days: i64,
    #[serde(skip_serializing_if = "Option::is_none")]
    keeps_until: Option<String>,
    treated_twelfths: i64,
    #[serde(skip_serializing_if = "Option::is_none")]
    capacity_twelfths: Option<i64>,
    #[serde(skip_serializing_if = "Option::is_none")]
    left_twelfths: Option<i64>,
    #[serde(skip_serializing_if = "Option::is_none")]
    tested: Option<TestOut>,
    verdict: &'static str,
}

#[derive(Serialize)]
struct TestOut {
    test: String,
    date: String,
    film: String,
    clears_ms: i64,
    #[serde(skip_serializing_if = "Option::is_none")]
    fresh_ms: Option<i64>,
}

/// The same as one JSON object, indented, with a line ending behind it. Film is in twelfths of a roll.
#[must_use]
pub fn baths_json(all: &[Standing<'_>], on: Date) -> String {
    let out = BathsOut { baths: 1, on: on.to_string(), bottles: all.iter().map(bottle).collect() };
    let mut text = serde_json::to_string_pretty(&out).expect("every key above is a word");
    text.push('\n');
    text
}

fn bottle(one: &Standing<'_>) -> BottleOut {
    let bath = one.bath;
    BottleOut {
        name: plain(&bath.name),
        title: plain(&bath.title),
        solution: plain(&bath.solution.name),
        dilution: bath.dilution.to_string(),
        volume_ml: bath.volume.value.in_ml(1).parse().unwrap_or_else(|_| 0.into()),
        mixed: bath.mixed.value.to_string(),
        discarded: bath.discarded.map(|discarded| discarded.value.to_string()),
        age_days: one.age(),
        keeps_until: one.keeps_until.map(|until| until.to_string()),
        treated_twelfths: one.treated,
        capacity_twelfths: one.capacity.map(|capacity| capacity.twelfths()),
        left_twelfths: one.left_after(0),
        tested: one.cleared.map(|cleared| TestOut {
            test: plain(&cleared.test.name),
            date: cleared.test.date.value.to_string(),
            film: plain(&cleared.test.film.name),
            clears_ms: cleared.test.time.value.ms,
            fresh_ms: cleared.fresh.map(|fresh| fresh.time.ms),
        }),
        verdict: word(one.verdict()),
    }
}

/// The verdict as a program reads it.
fn word(verdict: Verdict) -> &'static str {
    match verdict {
        Verdict::Discarded => "discarded",
        Verdict::ClearsTooSlowly => "clears-too-slowly",
        Verdict::Spent => "spent",
        Verdict::PastKeeping => "past-keeping",
        Verdict::NearlySpent => "nearly-spent",
        Verdict::Good => "good",
    }
}
