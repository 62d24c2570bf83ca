//! The places in the tank: from the bottom up to load by touch, and from the top down to hang.

use super::card::Place;
use super::clock::Wall;
use super::plain::plain;
use super::{figure, naming};
use crate::compile::{Schedule, Slot};
use crate::model::Motion;

/// The places from the bottom up. Neighbours of one format without labels are one place.
pub(super) fn places(schedule: &Schedule) -> Vec<Place> {
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
            count => format!("{count} {}s of {format}", figure::piece(low.format)),
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
pub(super) fn dark(schedule: &Schedule, wall: Wall) -> Option<String> {
    let step = schedule.steps.iter().find(|step| step.light_safe)?;
    let full = step.start + step.handling + step.fill;
    let clock = wall.at(full).map(|clock| format!(" · {clock}")).unwrap_or_default();
    let is_in = if step.bath.is_some() { " is in" } else { "" };
    let work = if is_open(schedule) { "work in the dark" } else { "keep the lid on" };
    Some(format!("{work} until {}{is_in} ({full}{clock})", naming::head(step)))
}

/// The line for the moment from which light is safe.
pub(super) fn light(schedule: &Schedule) -> &'static str {
    if is_open(schedule) { "the light may go on" } else { "the lid may come off" }
}

/// Whether the film lies in trays or hangs in open tanks: no one rocks, lifts or shuffles film under a lid.
fn is_open(schedule: &Schedule) -> bool {
    let mut motions = schedule.recipe.steps.iter().filter_map(|step| step.agitation.as_ref()?.value.by);
    motions.any(|by| matches!(by, Motion::Rocking | Motion::Lifting | Motion::Shuffling))
}

/// The order in which the film hangs; `None` for a single piece.
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

/// The words before the order in which film hangs.
pub(super) const HANGING: &str = "the top of the tank first: ";
