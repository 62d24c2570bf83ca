//! The head and the foot of a card: what tonight is, what was presumed of it, and what it comes to.

use crate::compile::{PlannedStep, Schedule};
use crate::model::Time;

use super::card::Total;
use super::clock::Wall;
use super::figure;
use super::naming;
use super::plain::plain;

/// Film and index, rolls, tank and temperature.
pub(super) fn facts(schedule: &Schedule) -> Vec<String> {
    let asked = &schedule.conditions;
    let rolls: Vec<String> = asked.rolls.iter().map(|rolls| figure::rolls(*rolls)).collect();
    let mut facts = vec![plain(&schedule.film.title), rolls.join(" + ")];
    facts.extend(schedule.tank.as_ref().map(|tank| plain(&tank.title)));
    let begins = figure::both_degrees(asked.temperature, asked.scale);
    facts.push(match asked.ending {
        Some(ending) => format!("{begins}, ending at {}", figure::both_degrees(ending, asked.scale)),
        None => begins,
    });
    facts.extend(schedule.recipe.index.as_ref().map(|index| format!("exposed at {}", index.value)));
    facts
}

/// What stands at nothing because neither the recipe nor the tank says it (R6).
pub(super) fn presumed(schedule: &Schedule) -> Vec<String> {
    let wet: Vec<&PlannedStep> = schedule.steps.iter().filter(|step| step.bath.is_some()).collect();
    let lacking = |time: fn(&PlannedStep) -> Time| -> Vec<String> {
        let without = wet.iter().filter(|step| time(step) == Time::ZERO);
        without.map(|step| naming::called(step)).collect()
    };
    let (fill, drain) = (lacking(|step| step.fill), lacking(|step| step.drain));
    let tank = if schedule.tank.is_none() { "no tank named" } else { "" };
    let mut said: Vec<String> = if fill == drain {
        vec![counted("filling and draining are", &fill, wet.len())]
    } else {
        vec![counted("filling is", &fill, wet.len()), counted("draining is", &drain, wet.len())]
    };
    said.retain(|text| !text.is_empty());
    match (tank, said.first_mut()) {
        ("", _) => {}
        (tank, Some(first)) => *first = format!("{tank}: {first}"),
        (tank, None) => said.push(tank.to_owned()),
    }
    said
}

fn counted(what: &str, steps: &[String], all: usize) -> String {
    match steps.len() {
        0 => String::new(),
        some if some == all => format!("{what} counted as 0:00"),
        _ => format!("{what} counted as 0:00 in {}", steps.join(", ")),
    }
}

/// The doubts, each with the rule that raised it.
pub(super) fn warnings(schedule: &Schedule) -> Vec<String> {
    let doubts = schedule.warnings.iter();
    doubts.map(|doubt| format!("{} ({})", plain(&doubt.text), doubt.rule)).collect()
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
