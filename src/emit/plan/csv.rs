//! A plan as a table, a row a roll, those that are developed too. Its form is RFC 4180, and no cell that a
//! stranger had a word in can be taken for a formula.

use super::super::csv::{line, text};
use crate::plan::Plan;

/// The columns.
const HEAD: [&str; 10] =
    ["load", "slot", "label", "film", "format", "index", "shot", "recipe", "develop", "done"];

/// The table, its head first; each line ends with CRLF.
#[must_use]
pub fn plan_csv(plan: &Plan) -> String {
    let mut table = line(HEAD.map(str::to_owned));
    for (load, number) in plan.loads.iter().zip(1u32..) {
        let develop = load.schedule.steps.iter().find(|step| step.kind == crate::model::StepKind::Develop);
        let develop = develop.map(|step| step.duration.to_string()).unwrap_or_default();
        for (roll, slot) in load.rolls.iter().zip(1u32..) {
            table.push_str(&line([
                number.to_string(),
                slot.to_string(),
                text(&roll.label),
                text(&roll.film),
                roll.format.word().to_owned(),
                roll.index.map(|index| index.to_string()).unwrap_or_default(),
                roll.shot.map(|shot| shot.to_string()).unwrap_or_default(),
                load.schedule.recipe.name.clone(),
                develop.clone(),
                String::new(),
            ]));
        }
    }
    for (label, day) in &plan.done {
        let mut cells = [const { String::new() }; 10];
        let [_, _, own, .., done] = &mut cells;
        (*own, *done) = (text(label), day.to_string());
        table.push_str(&line(cells));
    }
    table
}
