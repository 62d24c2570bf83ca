//! The baths to have ready before the film goes in, each once, in the order of use.

use super::card::{Part, Ready};
use super::plain::plain;
use super::{figure, naming};
use crate::compile::{PlannedBath, PlannedBottle, PlannedStep, Schedule};
use crate::model::{Use, Volume, decimal};

/// The baths of the evening.
pub(super) fn mix(schedule: &Schedule) -> Vec<Ready> {
    let mut rows: Vec<(&PlannedBath, Ready)> = Vec::new();
    for step in &schedule.steps {
        let Some(bath) = &step.bath else { continue };
        let name = naming::called(step);
        match rows.iter_mut().find(|(other, _)| is_same_bottle(bath, other)) {
            Some((_, row)) => row.steps = format!("{}, {name}", row.steps),
            None => rows.push((bath, ready(schedule, step, bath, name))),
        }
    }
    rows.into_iter().map(|(_, row)| row).collect()
}

/// Whether two steps use one bottle: a kept bath of one strength and volume. A one-shot bath and water are measured
/// again for each step.
fn is_same_bottle(one: &PlannedBath, other: &PlannedBath) -> bool {
    let kept = one.fate.map_or(one.dilution.is_some(), |fate| fate != Use::OneShot);
    kept && one.solution == other.solution
        && one.dilution == other.dilution
        && one.fate == other.fate
        && one.volume == other.volume
        && one.bottle == other.bottle
}

fn ready(schedule: &Schedule, step: &PlannedStep, bath: &PlannedBath, steps: String) -> Ready {
    let scale = schedule.conditions.scale;
    let at = step.temperature.map_or(String::new(), |at| format!(" at {}", figure::degrees(at, scale)));
    let volume = figure::ml(bath.volume);
    let is_kept = matches!(bath.fate, Some(Use::Reused | Use::Replenished));
    let mut parts = Vec::new();
    let how = if bath.dilution.is_none() {
        match (naming::running(naming::written(schedule, step)), bath.pours) {
            (Some(flow), _) => format!("running{at}, {flow}"),
            (None, 0 | 1) => format!("have {volume} ready{at}"),
            (None, pours) => format!("have {pours} x {volume} ready{at}"),
        }
    } else if let Some(bottle) = &bath.bottle {
        format!("take {volume} from {}{at}: {}", plain(&bottle.name), state(bottle))
    } else {
        parts = self::parts(bath);
        match (is_kept, parts.is_empty()) {
            (true, true) => format!("take {volume} from its bottle{at}"),
            (true, false) => format!("take {volume} from its bottle{at}; to mix it new"),
            (false, true) => format!("measure {volume}{at}"),
            (false, false) => format!("mix {volume}{at}"),
        }
    };
    Ready { steps, bath: naming::bath(bath), how, parts }
}

/// The film that a bottle has treated, and what it can still treat.
fn state(bottle: &PlannedBottle) -> String {
    let rolls = |twelfths: i64| {
        let rolls = decimal(twelfths, 12, 2);
        if rolls == "1" { "1 roll".to_owned() } else { format!("{rolls} rolls") }
    };
    let left = bottle.left.map(|left| format!(", {} left after tonight", rolls(left))).unwrap_or_default();
    format!("{} treated by {}{left}", rolls(bottle.treated), bottle.on)
}

/// The parts and the water; none if there is only one.
fn parts(bath: &PlannedBath) -> Vec<Part> {
    let measured = bath.parts.iter().map(|part| (part.volume, plain(&part.what)));
    let water = (bath.water > Volume::ZERO).then(|| (bath.water, "water".to_owned()));
    let all = measured.chain(water).map(|(volume, what)| Part { amount: figure::ml(volume), what });
    let all: Vec<Part> = all.collect();
    if all.len() > 1 { all } else { Vec::new() }
}
