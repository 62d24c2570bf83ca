//! An evening and a plan as CSV (RFC 4180). No text from a recipe can become a formula.

use super::clock::Wall;
use super::plain::{plain, prefixed};
use super::{moments, naming};
use crate::compile::Schedule;
use crate::model::{Exposed, StepKind};
use crate::plan::Plan;

/// The columns of an evening. Times are from the start of the first step.
const HEAD: [&str; 9] = ["step", "action", "at", "at_ms", "length", "length_ms", "wall", "bath", "what"];
const PLAN_HEAD: [&str; 12] = [
    "load", "slot", "label", "film", "format", "index", "shot", "recipe", "develop", "on", "done", "left out",
];
/// The first characters of a formula in a spreadsheet, with their wide forms. Some also take a tab or a carriage return;
/// [`plain`] removes those.
const FORMULA: [char; 8] = ['=', '+', '-', '@', '＝', '＋', '－', '＠'];

/// The evening with a row for each action, after its head. Each line ends with CRLF.
#[must_use]
pub fn csv(schedule: &Schedule) -> String {
    let wall = Wall::of(schedule);
    let mut table = line(HEAD);
    for step in &schedule.steps {
        for event in &step.events {
            table.push_str(&line([
                text(&naming::called(step)),
                event.action.word().to_owned(),
                event.at.to_string(),
                event.at.ms.to_string(),
                event.length.to_string(),
                event.length.ms.to_string(),
                prefixed("", wall.at(event.at)),
                text(&prefixed("", step.bath.as_ref().map(naming::bath))),
                text(&moments::words(schedule, step, event)),
            ]));
        }
    }
    table
}

/// The plan with a row for each roll, developed and left-out ones too.
#[must_use]
pub fn plan_csv(plan: &Plan) -> String {
    let mut table = line(PLAN_HEAD);
    for (load, number) in plan.loads.iter().zip(1u32..) {
        let develop = load.schedule.steps.iter().find(|step| step.kind == StepKind::Develop);
        let (recipe, develop) = (&load.schedule.recipe.name, develop.map(|step| step.duration));
        for (roll, slot) in load.rolls.iter().zip(1u32..) {
            let on = plan.days.map(|_| load.on);
            let after = [recipe.clone(), prefixed("", develop), prefixed("", on), String::new()];
            table.push_str(&roll_line(roll, [number.to_string(), slot.to_string()], after));
        }
    }
    for left in &plan.left {
        let reasons: Vec<&str> = left.faults.iter().map(|fault| fault.message.as_str()).collect();
        for roll in &left.rolls {
            let [recipe, develop, on, _] = Default::default();
            let after = [recipe, develop, on, text(&reasons.join("; "))];
            table.push_str(&roll_line(roll, Default::default(), after));
        }
    }
    for (label, day) in &plan.done {
        let (label, day) = (text(label), day.to_string());
        table.push_str(&line(["", "", &label, "", "", "", "", "", "", "", &day, ""]));
    }
    table
}

/// The row of a roll that is not developed.
fn roll_line(roll: &Exposed, [load, slot]: [String; 2], after: [String; 4]) -> String {
    let [recipe, develop, on, left_out] = after;
    line([
        load,
        slot,
        text(&roll.label),
        text(&roll.film.title),
        roll.format.word().to_owned(),
        prefixed("", roll.exposed_at()),
        prefixed("", roll.shot),
        recipe,
        develop,
        on,
        String::new(),
        left_out,
    ])
}

/// A cell of text. An apostrophe before a formula turns it into text, also after each semicolon, where some spreadsheets
/// begin a new cell even inside quotes.
fn text(words: &str) -> String {
    let safe = |cell: &str| {
        let begins = cell.trim_start_matches(|letter: char| letter.is_whitespace() || letter == '"');
        if begins.starts_with(FORMULA) { format!("'{cell}") } else { cell.to_owned() }
    };
    plain(words).split(';').map(safe).collect::<Vec<_>>().join(";")
}

/// A row; a cell is in quotes if it would otherwise be several.
fn line<const N: usize, T: AsRef<str>>(cells: [T; N]) -> String {
    let quoted = |cell: T| match cell.as_ref() {
        cell if cell.contains(['"', ',', ';', '\t', '\r', '\n']) => {
            format!("\"{}\"", cell.replace('"', "\"\""))
        }
        cell => cell.to_owned(),
    };
    format!("{}\r\n", cells.map(quoted).join(","))
}
