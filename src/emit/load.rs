//! What lies where in the tank. It is read out while loading by touch, so it goes from the bottom up, and
//! again when hanging, so the other way round.

use crate::compile::{Schedule, Slot};

use super::card::Place;
use super::clock::Wall;
use super::figure;
use super::naming;
use super::plain::plain;

/// The places, the bottom first; neighbours without a label and of one format are told as one.
pub(super) fn places(schedule: &Schedule) -> Vec<Place> {
    let runs: Vec<&[Slot]> = schedule.load.chunk_by(alike).collect();
    let last = runs.len().saturating_sub(1);
    runs.iter()
        .enumerate()
        .filter_map(|(at, run)| {
            let (low, high) = (run.first()?, run.last()?);
            let end = match (at == 0, at == last) {
                (true, true) if run.len() > 1 => "bottom to top",
                (true, true) => "",
                (true, false) => "bottom",
                (false, true) => "top",
                (false, false) => "",
            };
            Some(Place { end, slots: slots(low, high), label: label(low), what: what(run.len(), low) })
        })
        .collect()
}

fn alike(one: &Slot, next: &Slot) -> bool {
    one.label.is_none() && next.label.is_none() && one.format == next.format
}

fn slots(low: &Slot, high: &Slot) -> String {
    if low.slot == high.slot { low.slot.to_string() } else { format!("{} to {}", low.slot, high.slot) }
}

fn label(slot: &Slot) -> String {
    slot.label.as_deref().map(plain).unwrap_or_default()
}

fn what(count: usize, slot: &Slot) -> String {
    let format = slot.format;
    if count == 1 {
        format.word().to_owned()
    } else {
        format!("{count} {}s of {}", figure::piece(format), format.word())
    }
}

/// Until when the lid stays on.
pub(super) fn lid(schedule: &Schedule, wall: Wall) -> Option<String> {
    let step = schedule.steps.iter().find(|step| step.light_safe)?;
    let full = step.start + step.handling + step.fill;
    let clock = wall.at(full).map(|clock| format!(" · {clock}")).unwrap_or_default();
    let is_in = if step.bath.is_some() { " is in" } else { "" };
    Some(format!("the lid stays on until {}{is_in} ({full}{clock})", naming::head(step)))
}

/// In what order the film comes out and hangs; `None` for a single piece.
pub(super) fn hanging(schedule: &Schedule) -> Option<String> {
    let (bottom, top) = (schedule.load.first()?, schedule.load.last()?);
    if bottom.slot == top.slot {
        return None;
    }
    let mut down: Vec<&[Slot]> =
        schedule.load.chunk_by(|one, next| one.label.is_none() && next.label.is_none()).collect();
    down.reverse();
    let names: Vec<String> = down.into_iter().filter_map(name).collect();
    Some(format!("the top of the tank first: {}", names.join(" · ")))
}

fn name(run: &[Slot]) -> Option<String> {
    let (low, high) = (run.first()?, run.last()?);
    let slots = if low.slot == high.slot {
        low.slot.to_string()
    } else {
        format!("{} down to {}", high.slot, low.slot)
    };
    Some(low.label.as_deref().map_or(slots, plain))
}
