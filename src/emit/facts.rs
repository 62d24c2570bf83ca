//! The head and the foot of a card: what tonight is, what is doubtful of it, and what it comes to.

use crate::compile::{Doubt, Schedule};

use super::card::Total;
use super::clock::Wall;
use super::figure;
use super::plain::plain;

/// Film and index, rolls, tank and temperature.
pub(super) fn facts(schedule: &Schedule) -> Vec<String> {
    let asked = &schedule.conditions;
    let rolls: Vec<String> = asked.rolls.iter().map(|rolls| figure::rolls(*rolls)).collect();
    let mut facts = vec![plain(&schedule.film.title), rolls.join(" + ")];
    facts.extend(schedule.conditions.tank.as_ref().map(|tank| plain(&tank.title)));
    let begins = figure::both_degrees(asked.temperature, asked.scale);
    facts.push(match asked.ending {
        Some(ending) => format!("{begins}, ending at {}", figure::both_degrees(ending, asked.scale)),
        None => begins,
    });
    facts.extend(schedule.recipe.index.as_ref().map(|index| format!("exposed at {}", index.value)));
    facts
}

/// The warnings. A lint rule is named, because `allow` takes its name. A rule of the arithmetic is not.
pub(super) fn warnings(schedule: &Schedule) -> Vec<String> {
    let warning = |doubt: &Doubt| match doubt.rule.contains('-') {
        true => with_rule(doubt),
        false => plain(&doubt.text),
    };
    schedule.warnings.iter().map(warning).collect()
}

/// The warnings, each with the name or the number of the rule that raised it.
pub(super) fn warnings_with_rules(schedule: &Schedule) -> Vec<String> {
    schedule.warnings.iter().map(with_rule).collect()
}

fn with_rule(doubt: &Doubt) -> String {
    format!("{} ({})", plain(&doubt.text), doubt.rule)
}

/// What the evening comes to (R16, R14).
pub(super) fn total(schedule: &Schedule, wall: Wall) -> Total {
    let dry = schedule.steps.last().and_then(|last| wall.at(last.end));
    let until = dry.map(|dry| format!(", until {dry}")).unwrap_or_default();
    let drying = schedule.drying.map(|time| format!("and {time} of drying{until}"));
    let water = format!("{} of water in all", figure::told(schedule.water));
    Total {
        time: schedule.total.to_string(),
        wall: wall.at(schedule.total),
        besides: drying.into_iter().chain([water]).collect(),
    }
}
