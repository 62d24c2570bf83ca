//! A session and a plan as CSV (RFC 4180), in which no text from a recipe becomes a formula of a spreadsheet.

use super::moments;
use super::phrase::{self, wall};
use super::plain::{joined, plain, prefixed};
use super::signs;
use crate::compile::{SAFETY_FIRST, Schedule};
use crate::model::{StepKind, Time};
use crate::plan::{LeftRoll, PLAN_COLUMNS, Plan, guarded};

/// The columns of a session. A leg begins with the session, or where a person ends a step at a sign. `at` counts from
/// the start of the leg, `earliest_ms` and `latest_ms` from the start of the first step.
const HEAD: [&str; 12] = [
    "step",
    "action",
    "at",
    "at_ms",
    "length",
    "length_ms",
    "wall",
    "bath",
    "what",
    "leg",
    "earliest_ms",
    "latest_ms",
];

/// The session as CSV with CRLF line endings: a header, and a row that points to the safety block. Then a row for each
/// warning about a roll or bottle that `--anyway` names, and for each action.
pub fn csv(schedule: &Schedule) -> String {
    let mut table = line(HEAD);
    table.push_str(&line(["", "safety", "", "", "", "", "", "", SAFETY_FIRST, "", "", ""]));
    for warning in schedule.taken_anyway() {
        table.push_str(&line(["", "warning", "", "", "", "", "", "", &text(&warning.text), "", "", ""]));
    }
    for step in &schedule.steps {
        let row = |action: &str, at: Time, length: Time, what: &str| {
            let leg = schedule.leg(at);
            let within = at - schedule.leg_start(at);
            line([
                text(&phrase::called(step)),
                action.to_owned(),
                within.to_string(),
                within.ms.to_string(),
                length.to_string(),
                length.ms.to_string(),
                prefixed("", wall(schedule, at)),
                text(&prefixed("", step.bath.as_ref().map(phrase::bath))),
                text(what),
                (leg + 1).to_string(),
                schedule.earliest(at).ms.to_string(),
                at.ms.to_string(),
            ])
        };
        let mut decision = step.decision.as_ref().map(|decision| {
            let at = step.leaves() - decision.slack();
            (at, row("decide", at, decision.slack(), &signs::in_one(decision)))
        });
        for event in &step.events {
            if let Some((_, row)) = decision.take_if(|(at, _)| *at <= event.at) {
                table.push_str(&row);
            }
            let words = moments::words(schedule, step, event);
            table.push_str(&row(event.action.word(), event.at, event.length, &words));
        }
        table.extend(decision.map(|(_, row)| row));
    }
    table
}

/// The plan as CSV: a header, then a row for each roll, including developed rolls and rolls without a load.
pub fn plan_csv(plan: &Plan) -> String {
    let mut table = line(PLAN_COLUMNS);
    for (load, number) in plan.loads.iter().zip(1u32..) {
        let develop = load.schedule.steps.iter().find(|step| step.kind == StepKind::Develop);
        let develop = prefixed("", develop.map(phrase::lasts));
        let on = prefixed("", plan.days.map(|_| load.on));
        for (roll, slot) in load.rolls.iter().zip(1u32..) {
            let recipe = load.schedule.recipe.name.clone();
            let of_load = [number.to_string(), slot.to_string(), recipe, develop.clone(), on.clone()];
            table.push_str(&roll_line(&LeftRoll::from(roll), of_load, ["", ""]));
        }
    }
    for left in &plan.left {
        let reasons = joined(left.faults.iter().map(|fault| &fault.message), "; ");
        for roll in &left.rolls {
            table.push_str(&roll_line(roll, Default::default(), ["", &reasons]));
        }
    }
    for (roll, day) in &plan.done {
        table.push_str(&roll_line(&LeftRoll::from(roll), Default::default(), [&day.to_string(), ""]));
    }
    table
}

/// The row of a roll. `of_load` has the cells `load, slot, recipe, develop, on`; the last array has `done, left out`.
fn roll_line(roll: &LeftRoll, of_load: [String; 5], [done, left_out]: [&str; 2]) -> String {
    let [load, slot, recipe, develop, on] = of_load;
    line([
        load,
        slot,
        text(&roll.label),
        text(&roll.film),
        text(&roll.format),
        prefixed("", roll.index),
        prefixed("", roll.shot),
        recipe,
        develop,
        on,
        done.to_owned(),
        text(left_out),
    ])
}

/// The text as a cell that a spreadsheet does not read as a formula.
fn text(words: &str) -> String {
    guarded(&plain(words))
}

/// A row. A cell is in quotes if it has a separator, a quotation mark or a line ending.
fn line<const N: usize, T: AsRef<str>>(cells: [T; N]) -> String {
    let quoted = |cell: T| match cell.as_ref() {
        cell if cell.contains(['"', ',', ';', '\t', '\r', '\n']) => {
            format!("\"{}\"", cell.replace('"', "\"\""))
        }
        cell => cell.to_owned(),
    };
    format!("{}\r\n", cells.map(quoted).join(","))
}
