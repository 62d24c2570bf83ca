//! The evening as CSV (RFC 4180) with a row for each action. No text from a recipe can become a formula.

use super::clock::Wall;
use super::plain::plain;
use super::{moments, naming};
use crate::compile::Schedule;

/// The columns. Times are from the start of the first step.
const HEAD: [&str; 9] = ["step", "action", "at", "at_ms", "length", "length_ms", "wall", "bath", "what"];
/// The first characters of a formula in a spreadsheet, with their wide forms. Some also take a tab or a carriage return;
/// [`plain`] removes those.
const FORMULA: [char; 8] = ['=', '+', '-', '@', '＝', '＋', '－', '＠'];

/// The table with its head. Each line ends with CRLF.
#[must_use]
pub fn csv(schedule: &Schedule) -> String {
    let wall = Wall::of(schedule);
    let mut table = line(HEAD.map(str::to_owned));
    for step in &schedule.steps {
        for event in &step.events {
            table.push_str(&line([
                text(&naming::called(step)),
                event.action.word().to_owned(),
                event.at.to_string(),
                event.at.ms.to_string(),
                event.length.to_string(),
                event.length.ms.to_string(),
                wall.at(event.at).unwrap_or_default(),
                text(&step.bath.as_ref().map(naming::bath).unwrap_or_default()),
                text(&moments::words(schedule, step, event)),
            ]));
        }
    }
    table
}

/// A cell of text. An apostrophe before a formula turns it into text, also after each semicolon, where some spreadsheets
/// begin a new cell even inside quotes.
pub(super) fn text(words: &str) -> String {
    let safe = |cell: &str| {
        let begins = cell.trim_start_matches(|letter: char| letter.is_whitespace() || letter == '"');
        if begins.starts_with(FORMULA) { format!("'{cell}") } else { cell.to_owned() }
    };
    plain(words).split(';').map(safe).collect::<Vec<_>>().join(";")
}

/// A row of the table.
pub(super) fn line<const N: usize>(cells: [String; N]) -> String {
    format!("{}\r\n", cells.map(|cell| quoted(&cell)).join(","))
}

/// A cell, in quotes if it would otherwise be several.
fn quoted(cell: &str) -> String {
    if cell.contains(['"', ',', ';', '\t', '\r', '\n']) {
        format!("\"{}\"", cell.replace('"', "\"\""))
    } else {
        cell.to_owned()
    }
}
