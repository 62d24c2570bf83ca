//! What a card says to do after the last step: where each bath goes, what to replenish, and which bath replaces an
//! exhausted one.

use super::card::hanging;
use super::phrase::{self, Fate};
use super::plain::{distinct, plain, prefixed};
use super::vessel::{baths_stay, dried};
use crate::compile::{PlannedStep, Schedule, spoken_rolls};
use crate::model::StepKind;

/// One line for each waste can, with the names of the baths that go into it. Only baths with this `fate` count.
/// `reason` says why they are collected, as in `, for its silver`.
fn collected(schedule: &Schedule, fate: Fate, reason: &str) -> Vec<String> {
    let can = |step: &PlannedStep| {
        let role = phrase::written(schedule, step)?.role()?;
        schedule.conditions.personal.cans.get(&role).map(|can| format!(" {}", plain(can)))
    };
    let steps = schedule.steps.iter().filter(|step| Fate::of(schedule, step) == Some(fate));
    let mut cans: Vec<(String, Vec<String>)> = Vec::new();
    for (step, bath) in steps.filter_map(|step| Some((step, step.bath.as_ref()?))) {
        let (can, bath) = (can(step).unwrap_or_default(), phrase::bath(bath));
        match cans.iter_mut().find(|(own, _)| *own == can) {
            Some((_, baths)) if baths.contains(&bath) => {}
            Some((_, baths)) => baths.push(bath),
            None => cans.push((can, vec![bath])),
        }
    }
    let line = |(can, baths): (String, Vec<String>)| {
        format!("collect in the waste can{can}{reason}: {}", baths.join(" · "))
    };
    cans.into_iter().map(line).collect()
}

pub(super) fn afterwards(schedule: &Schedule) -> Vec<String> {
    let with = |fate: Fate, what: &str| {
        let steps = schedule.steps.iter().filter(|step| Fate::of(schedule, step) == Some(fate));
        let names = distinct(steps.filter_map(|step| step.bath.as_ref()).map(phrase::bath));
        (!names.is_empty()).then(|| format!("{what}: {}", names.join(" · ")))
    };
    let replenished = schedule.steps.iter().filter_map(|step| {
        let bath = step.bath.as_ref()?;
        let volume = phrase::ml(bath.replenish?);
        Some(match &bath.replenisher {
            Some(with) => {
                format!("replenish: add {volume} of {} to {}", plain(&with.title), phrase::bath(bath))
            }
            None if baths_stay(schedule) => format!("replenish: add {volume} to {}", phrase::bath(bath)),
            None => format!("replenish: add {volume} to the bottle of {}", phrase::bath(bath)),
        })
    });
    let dries = schedule.steps.iter().any(|step| step.kind == StepKind::Dry);
    let hang = hanging(schedule).filter(|_| !dries).map(|order| format!("{}, {order}", dried(schedule)));
    let mut lines: Vec<String> = hang.into_iter().collect();
    let kept = if baths_stay(schedule) { "leave in its tank, covered" } else { "return to the bottle" };
    lines.extend(with(Fate::Bottle, kept));
    lines.extend(distinct(replenished));
    lines.extend(schedule.steps.iter().filter_map(|step| moving_up(schedule, step)));
    lines.extend(collected(schedule, Fate::Silver, ", for its silver"));
    lines.extend(collected(schedule, Fate::Waste, ""));
    lines.extend(with(Fate::Away, "pour away or collect as waste, as your local code says"));
    lines.extend(with(Fate::Unsaid, "keep, since the recipe does not say where it goes"));
    lines
}

/// The instruction for a bath that replaces another:
/// `once bath one is exhausted, discard it; use bath two as bath one`. `None` for baths that replace no other.
fn moving_up(schedule: &Schedule, step: &PlannedStep) -> Option<String> {
    let bath = step.bath.as_ref()?;
    let (name, becomes) = (plain(bath.name.as_deref()?), plain(bath.becomes.as_deref()?));
    let first = schedule.steps.iter().filter_map(|step| step.bath.as_ref());
    let first = first.filter(|other| other.solution == bath.solution && other.dilution == bath.dilution);
    let left = first
        .filter(|other| other.name == bath.becomes)
        .find_map(|other| Some((other.bottle.as_ref()?.name.as_str(), other.bottle.as_ref()?.left?)));
    let title = plain(&bath.title) + &prefixed(" ", bath.dilution.as_ref());
    let then = format!("use bath {name} as bath {becomes}, and make a new bath {name}");
    Some(match left {
        Some((bottle, left)) if left < schedule.area() => {
            let left = spoken_rolls(left);
            format!("{title}: discard bath {becomes}, {} ({left} left); {then}", plain(bottle))
        }
        _ => format!("{title}: once bath {becomes} is exhausted, discard it; {then}"),
    })
}
