//! The evening as a table: a row an action, for a spreadsheet or a program that reads lines. Its form is
//! RFC 4180, and no cell that a stranger had a word in can be taken for a formula.

use crate::compile::Schedule;

use super::clock::Wall;
use super::moments;
use super::naming;
use super::plain::plain;

/// The columns. Numbers are whole milliseconds from the start of the first step.
const HEAD: [&str; 9] = ["step", "action", "at", "at_ms", "length", "length_ms", "wall", "bath", "what"];
/// What a spreadsheet takes for the beginning of a formula, the wide forms too. A tab or a carriage return, which
/// some take for one as well, has become something harmless by then.
const FORMULA: [char; 8] = ['=', '+', '-', '@', '＝', '＋', '－', '＠'];

/// The table, its head first; each line ends with CRLF.
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

/// A cell with words in it. An apostrophe before what looks like a formula makes it words to a spreadsheet as well,
/// and to one that begins a new cell at each semicolon, whatever quotes stand around it.
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

/// A cell in quotes, where it would else be read as several.
fn quoted(cell: &str) -> String {
    if cell.contains(['"', ',', ';', '\t', '\r', '\n']) {
        format!("\"{}\"", cell.replace('"', "\"\""))
    } else {
        cell.to_owned()
    }
}
