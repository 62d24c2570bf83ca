//! A plan as CSV (RFC 4180) with a row for each roll, developed and left-out ones too.

use super::super::csv::{line, text};
use crate::model::StepKind;
use crate::plan::{Plan, Roll};

const HEAD: [&str; 12] = [
    "load", "slot", "label", "film", "format", "index", "shot", "recipe", "develop", "on", "done", "left out",
];

/// The table with its head. Each line ends with CRLF.
#[must_use]
pub fn plan_csv(plan: &Plan) -> String {
    let mut table = line(HEAD.map(str::to_owned));
    for (load, number) in plan.loads.iter().zip(1u32..) {
        let develop = load.schedule.steps.iter().find(|step| step.kind == StepKind::Develop);
        let develop = develop.map(|step| step.duration.to_string()).unwrap_or_default();
        for (roll, slot) in load.rolls.iter().zip(1u32..) {
            let mut cells = cells(roll);
            let [own_load, own_slot, .., recipe, time, on, _, _] = &mut cells;
            (*own_load, *own_slot) = (number.to_string(), slot.to_string());
            (*recipe, *time) = (load.schedule.recipe.name.clone(), develop.clone());
            *on = plan.days.map(|_| load.on.to_string()).unwrap_or_default();
            table.push_str(&line(cells));
        }
    }
    for left in &plan.left {
        let reasons: Vec<&str> = left.faults.iter().map(|fault| fault.message.as_str()).collect();
        for roll in &left.rolls {
            let mut cells = cells(roll);
            let [.., out] = &mut cells;
            *out = text(&reasons.join("; "));
            table.push_str(&line(cells));
        }
    }
    for (label, day) in &plan.done {
        let mut cells = [const { String::new() }; 12];
        let [_, _, own, .., done, _] = &mut cells;
        (*own, *done) = (text(label), day.to_string());
        table.push_str(&line(cells));
    }
    table
}

/// The cells of the roll itself.
fn cells(roll: &Roll) -> [String; 12] {
    let mut cells = [const { String::new() }; 12];
    let [_, _, label, film, format, index, shot, ..] = &mut cells;
    (*label, *film) = (text(&roll.label), text(&roll.film));
    roll.format.word().clone_into(format);
    *index = roll.index.map(|index| index.to_string()).unwrap_or_default();
    *shot = roll.shot.map(|shot| shot.to_string()).unwrap_or_default();
    cells
}
