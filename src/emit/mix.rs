//! What to have ready before the film goes in: each bath once, in the order of use.

use crate::compile::{PlannedBath, PlannedBottle, PlannedStep, Schedule};
use crate::model::{Use, Volume, decimal};

use super::card::{Part, Ready};
use super::figure;
use super::naming;
use super::plain::plain;

/// The baths of the evening.
pub(super) fn mix(schedule: &Schedule) -> Vec<Ready> {
    let mut rows: Vec<Ready> = Vec::new();
    let mut shared: Vec<(&PlannedBath, usize)> = Vec::new();
    for step in &schedule.steps {
        let Some(bath) = &step.bath else { continue };
        let known = shared.iter().find(|(other, _)| same_bottle(bath, other)).map(|(_, row)| *row);
        let name = naming::called(step);
        match known.and_then(|row| rows.get_mut(row)) {
            Some(row) => row.steps = format!("{}, {name}", row.steps),
            None => {
                shared.push((bath, rows.len()));
                rows.push(ready(schedule, step, bath, name));
            }
        }
    }
    rows
}

/// Whether two steps take their bath from one vessel: a kept bath of one strength and one filling. What is
/// poured away after use is measured again for each step, and so is water.
fn same_bottle(one: &PlannedBath, other: &PlannedBath) -> bool {
    let kept = match one.fate {
        Some(Use::Reused | Use::Replenished) => true,
        Some(Use::OneShot) => false,
        None => one.dilution.is_some(),
    };
    kept && one.solution == other.solution
        && one.dilution == other.dilution
        && one.fate == other.fate
        && one.volume == other.volume
        && one.bottle == other.bottle
}

fn ready(schedule: &Schedule, step: &PlannedStep, bath: &PlannedBath, steps: String) -> Ready {
    let scale = schedule.conditions.scale;
    let warm = step.temperature.map_or(String::new(), |at| format!(" at {}", figure::degrees(at, scale)));
    let volume = figure::measured(bath.volume);
    let parts = parts(bath);
    if bath.dilution.is_none() {
        let running = naming::running(naming::written(schedule, step));
        let how = match (running, bath.pours) {
            (Some(flow), _) => format!("running{warm}, {flow}"),
            (None, 0 | 1) => format!("have {volume} ready{warm}"),
            (None, pours) => format!("have {pours} x {volume} ready{warm}"),
        };
        return Ready { steps, bath: naming::bath(bath), how, parts: Vec::new() };
    }
    if let Some(bottle) = &bath.bottle {
        let how = format!("{volume} from {}{warm}: {}", plain(&bottle.name), spent(bottle));
        return Ready { steps, bath: naming::bath(bath), how, parts: Vec::new() };
    }
    let how = match (bath.fate, parts.is_empty()) {
        (Some(Use::Reused | Use::Replenished), true) => format!("{volume} from its bottle{warm}"),
        (Some(Use::Reused | Use::Replenished), false) => {
            format!("{volume} from its bottle{warm}; if mixed new")
        }
        (Some(Use::OneShot) | None, true) => format!("measure {volume}{warm}"),
        (Some(Use::OneShot) | None, false) => format!("mix {volume}{warm}"),
    };
    Ready { steps, bath: naming::bath(bath), how, parts }
}

/// What went through a bottle, and what it still does for.
fn spent(bottle: &PlannedBottle) -> String {
    let rolls = |twelfths: i64| {
        let rolls = decimal(twelfths, 12, 2);
        if rolls == "1" { "1 roll".to_owned() } else { format!("{rolls} rolls") }
    };
    let left = bottle.left.map(|left| format!(", {} left after tonight", rolls(left))).unwrap_or_default();
    format!("{} through it by {}{left}", rolls(bottle.treated), bottle.on)
}

/// The parts and the water; none where the bath is one thing as it comes.
fn parts(bath: &PlannedBath) -> Vec<Part> {
    let measured = bath.parts.iter().map(|part| (part.volume, plain(&part.what)));
    let water = (bath.water > Volume::ZERO).then(|| (bath.water, "water".to_owned()));
    let all = measured.chain(water).map(|(volume, what)| Part { amount: figure::measured(volume), what });
    let all: Vec<Part> = all.collect();
    if all.len() > 1 { all } else { Vec::new() }
}
