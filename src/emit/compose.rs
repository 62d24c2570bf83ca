//! Composes a card from a schedule.

use super::card::{Card, Part, Place, Ready, Total};
use super::naming::{self, Fate, wall};
use super::plain::{all_plain, distinct, joined, plain, prefixed};
use super::{figure, steps};
use crate::compile::{PlannedBath, PlannedBottle, PlannedStep, Schedule, Slot, Warning};
use crate::model::{Motion, StepKind, Use, Volume};
use crate::source::Sources;

/// The last line of every card and sheet.
const CLOSING: &str = "a product's own safety data sheet, local codes, licensed practice come first";
/// The words before the order in which film hangs.
pub(super) const HANGING: &str = "the top of the tank first: ";

/// Cautions made plain, with the closing line.
pub(super) fn closed(cautions: &[String]) -> Vec<String> {
    let mut all = all_plain(cautions);
    all.push(CLOSING.to_owned());
    all
}

/// The card of a schedule. `sources` names the files and lines of its numbers.
pub fn card(schedule: &Schedule, sources: &Sources) -> Card {
    Card {
        title: plain(&schedule.recipe.title),
        fingerprint: plain(&schedule.fingerprint),
        facts: facts(schedule),
        warnings: warnings(schedule),
        warnings_with_rules: schedule.warnings.iter().map(with_rule).collect(),
        mix: mix(schedule),
        load: load(schedule),
        lid: dark(schedule),
        clock: "times at the left: the step's own clock, set to 0:00 at its first drop",
        work: steps::blocks(schedule, sources),
        total: total(schedule),
        afterwards: afterwards(schedule),
        cautions: closed(&schedule.cautions),
        notes: all_plain(&schedule.notes),
    }
}

/// Film, rolls, tank, temperature and exposure index.
fn facts(schedule: &Schedule) -> Vec<String> {
    let asked = &schedule.conditions;
    let rolls = asked.rolls.iter().map(|rolls| format!("{} x {}", rolls.count, rolls.format.word()));
    let mut facts = vec![plain(&schedule.film.title), joined(rolls, " + ")];
    facts.extend(asked.tank.as_ref().map(|tank| plain(&tank.title)));
    let degrees = |at| figure::both_degrees(at, asked.scale);
    facts.push(degrees(asked.temperature) + &prefixed(", ending at ", asked.ending.map(degrees)));
    facts.extend(schedule.recipe.index.as_ref().map(|index| format!("exposed at {}", index.value)));
    facts
}

/// The warnings. Each names its lint rule, because `allow` takes that name, but not a rule of the arithmetic.
pub(super) fn warnings(schedule: &Schedule) -> Vec<String> {
    let text = |warning: &Warning| {
        if warning.rule.contains('-') { with_rule(warning) } else { plain(&warning.text) }
    };
    schedule.warnings.iter().map(text).collect()
}

fn with_rule(warning: &Warning) -> String {
    format!("{} ({})", plain(&warning.text), warning.rule)
}

/// The whole evening (R16, R14).
fn total(schedule: &Schedule) -> Total {
    let until = prefixed(", until ", schedule.steps.last().and_then(|last| wall(schedule, last.end)));
    let drying = schedule.drying.map(|time| format!("and {time} of drying{until}"));
    let water = format!("{} of water in all", figure::litres(schedule.water));
    Total {
        time: schedule.total.to_string(),
        ends: wall(schedule, schedule.total).map(|end| format!("ends {end}")),
        besides: drying.into_iter().chain([water]).collect(),
    }
}

/// The baths to have ready before the film goes in, each once, in the order of use.
fn mix(schedule: &Schedule) -> Vec<Ready> {
    let mut rows: Vec<(&PlannedBath, Ready)> = Vec::new();
    for step in &schedule.steps {
        let Some(bath) = &step.bath else { continue };
        match rows.iter_mut().find(|(other, _)| is_same_bottle(bath, other)) {
            Some((_, row)) => row.steps = format!("{}, {}", row.steps, naming::called(step)),
            None => rows.push((bath, ready(schedule, step, bath))),
        }
    }
    rows.into_iter().map(|(_, row)| row).collect()
}

/// Whether two steps use one bottle: a kept bath of one strength and volume. A one-shot bath and water are measured
/// again for each step.
fn is_same_bottle(one: &PlannedBath, other: &PlannedBath) -> bool {
    let kept = one.reuse.map_or(one.dilution.is_some(), Use::is_kept);
    kept && one.solution == other.solution
        && one.dilution == other.dilution
        && one.reuse == other.reuse
        && one.volume == other.volume
        && one.bottle == other.bottle
}

fn ready(schedule: &Schedule, step: &PlannedStep, bath: &PlannedBath) -> Ready {
    let degrees = |at| figure::degrees(at, schedule.conditions.scale);
    let at = prefixed(" at ", step.temperature.map(degrees));
    let volume = figure::ml(bath.volume);
    let is_kept = bath.reuse.is_some_and(Use::is_kept);
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
    Ready { steps: naming::called(step), bath: naming::bath(bath), how, parts }
}

/// The film that a bottle has treated, and the film it can still treat.
fn state(bottle: &PlannedBottle) -> String {
    let rolls = |twelfths: i64| figure::count(figure::film(twelfths), "roll");
    let left = bottle.left.map(|left| format!("{} left after tonight", rolls(left)));
    format!("{} treated by {}{}", rolls(bottle.treated), bottle.on, prefixed(", ", left))
}

/// The parts and the water; none if there is only one.
fn parts(bath: &PlannedBath) -> Vec<Part> {
    let measured = bath.parts.iter().map(|part| (part.volume, plain(&part.what)));
    let water = (bath.water > Volume::ZERO).then(|| (bath.water, "water".to_owned()));
    let all = measured.chain(water).map(|(volume, what)| Part { amount: figure::ml(volume), what });
    let all: Vec<Part> = all.collect();
    if all.len() > 1 { all } else { Vec::new() }
}

/// The places in the tank, from the bottom up, to load by touch. Neighbours of one format without labels are one place.
fn load(schedule: &Schedule) -> Vec<Place> {
    let is_same = |one: &Slot, next: &Slot| unlabelled(one, next) && one.format == next.format;
    let runs: Vec<&[Slot]> = schedule.load.chunk_by(is_same).collect();
    let last = runs.len().saturating_sub(1);
    let place = |(at, run): (usize, &&[Slot])| {
        let (low, high) = (run.first()?, run.last()?);
        let end = match (at == 0, at == last) {
            (true, true) if run.len() > 1 => "bottom to top",
            (true, false) => "bottom",
            (false, true) => "top",
            _ => "",
        };
        let format = low.format.word();
        let what = match run.len() {
            1 => format.to_owned(),
            count if low.format.is_sheet() => format!("{count} sheets of {format}"),
            count => format!("{count} rolls of {format}"),
        };
        let label = low.label.as_deref().map(plain).unwrap_or_default();
        Some(Place { end, slots: slots(low, "to", high), label, what })
    };
    runs.iter().enumerate().filter_map(place).collect()
}

fn unlabelled(one: &Slot, next: &Slot) -> bool {
    one.label.is_none() && next.label.is_none()
}

fn slots(from: &Slot, to: &str, end: &Slot) -> String {
    if from.slot == end.slot { end.slot.to_string() } else { format!("{} {to} {}", from.slot, end.slot) }
}

/// How long to keep light from the film: by the lid, or in open trays by the dark.
fn dark(schedule: &Schedule) -> Option<String> {
    let step = schedule.steps.iter().find(|step| step.light_safe)?;
    let full = step.start + step.handling + step.fill;
    let clock = prefixed(" · ", wall(schedule, full));
    let is_in = if step.bath.is_some() { " is in" } else { "" };
    let work = if is_open(schedule) { "work in the dark" } else { "keep the lid on" };
    Some(format!("{work} until {}{is_in} ({full}{clock})", naming::head(step)))
}

/// Whether the film lies in trays or hangs in open tanks: no one rocks, lifts or shuffles film under a lid.
pub(super) fn is_open(schedule: &Schedule) -> bool {
    let mut motions = schedule.recipe.steps.iter().filter_map(|step| step.agitation.as_ref()?.value.by);
    motions.any(|by| matches!(by, Motion::Rocking | Motion::Lifting | Motion::Shuffling))
}

/// The order in which the film hangs, from the top of the tank down; `None` for a single piece.
pub(super) fn hanging(schedule: &Schedule) -> Option<String> {
    let (bottom, top) = (schedule.load.first()?, schedule.load.last()?);
    if bottom.slot == top.slot {
        return None;
    }
    let name = |run: &[Slot]| {
        let (low, high) = (run.first()?, run.last()?);
        Some(low.label.as_deref().map_or_else(|| slots(high, "down to", low), plain))
    };
    let mut names: Vec<String> = schedule.load.chunk_by(unlabelled).filter_map(name).collect();
    names.reverse();
    Some(format!("{HANGING}{}", names.join(" · ")))
}

/// What to do when the film hangs, each as a sentence without its full stop.
fn afterwards(schedule: &Schedule) -> Vec<String> {
    let baths = || schedule.steps.iter().filter_map(|step| Some((step, step.bath.as_ref()?)));
    let with = |fate: Fate, what: &str| {
        let own = baths()
            .filter(|(step, bath)| Fate::of(step, bath, naming::written(schedule, step)) == fate)
            .map(|(_, bath)| naming::bath(bath));
        let names = distinct(own);
        (!names.is_empty()).then(|| format!("{what}: {}", names.join(" · ")))
    };
    let replenished = baths().filter_map(|(_, bath)| {
        let volume = figure::ml(bath.replenish?);
        Some(format!("replenish: add {volume} to the bottle of {}", naming::bath(bath)))
    });
    let dries = schedule.steps.iter().any(|step| step.kind == StepKind::Dry);
    let hang = hanging(schedule).filter(|_| !dries).map(|order| format!("hang the film, {order}"));
    let mut lines: Vec<String> = hang.into_iter().collect();
    lines.extend(with(Fate::Bottle, "return to the bottle"));
    lines.extend(distinct(replenished));
    lines.extend(with(Fate::Silver, "collect in the waste can, for its silver"));
    lines.extend(with(Fate::Waste, "collect in the waste can"));
    lines.extend(with(Fate::Away, "pour away or collect as waste, as your local code says"));
    lines.extend(with(Fate::Unsaid, "keep, since the recipe does not say where it goes"));
    lines
}
