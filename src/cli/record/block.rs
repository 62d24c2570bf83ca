//! The text of a session: the conditions of the card, the rolls and the baths.

use crate::compile::{Scale, Schedule};
use crate::model::{Date, Temperature};

/// The facts of a session that its schedule lacks.
#[derive(Debug)]
pub(super) struct Evening<'a> {
    /// The session's name.
    pub(super) name: String,
    pub(super) date: Date,
    /// The git revision that has the recipe.
    pub(super) revision: Option<&'a str>,
    /// The backlog, as the journal names it.
    pub(super) backlog: Option<&'a str>,
    /// The baths, as the journal names them.
    pub(super) baths: &'a [String],
    pub(super) notes: &'a [String],
}

/// The whole block.
pub(super) fn session(schedule: &Schedule, evening: &Evening<'_>) -> String {
    let conditions = &schedule.conditions;
    let degrees = |temperature: Temperature| match conditions.scale {
        Scale::Celsius => temperature.to_string(),
        Scale::Fahrenheit => format!("{} F", temperature.in_fahrenheit(3)),
    };
    let mut lines = vec![
        format!("date {}", evening.date),
        format!("recipe {}, fingerprint \"{}\"", schedule.recipe.name, schedule.fingerprint),
    ];
    lines.extend(evening.revision.map(|commit| format!("revision \"{commit}\"")));
    lines.extend(schedule.conditions.tank.iter().map(|tank| format!("tank {}", tank.name)));
    lines.push(format!("at {}", degrees(conditions.temperature)));
    lines.extend(conditions.ending.map(|ending| format!("ending {}", degrees(ending))));
    lines.extend(conditions.step_temperatures.iter().map(|step| {
        let name = step.name.as_ref().map(|name| format!(" {name}")).unwrap_or_default();
        format!("step {}{name} at {}", step.kind.word(), degrees(step.temperature))
    }));
    lines.extend(conditions.volume.map(|volume| format!("volume {volume}")));
    lines.extend(evening.backlog.map(|name| format!("backlog {name}")));
    lines.extend(schedule.load.iter().map(|slot| {
        let label = slot.label.as_ref().map(|label| format!("\"{label}\" ")).unwrap_or_default();
        format!("slot {} {label}{}", slot.slot, slot.format.word())
    }));
    lines.extend(evening.baths.iter().map(|name| format!("bath {name}")));
    lines.extend(evening.notes.iter().map(|note| format!("note \"{note}\"")));
    let lines: String = lines.iter().map(|line| format!("    {line}\n")).collect();
    format!("session {} {{\n{lines}}}\n", evening.name)
}
