//! What lies where in the tank. It is read out while loading by touch, so it goes from the bottom up, and
//! again when hanging, so the other way round.

use crate::compile::{Schedule, Slot};
use crate::model::Motion;

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

/// Until when no light may reach the film: the lid stays on, or where nothing has a lid, it is dark.
pub(super) fn dark(schedule: &Schedule, wall: Wall) -> Option<String> {
    let step = schedule.steps.iter().find(|step| step.light_safe)?;
    let full = step.start + step.handling + step.fill;
    let clock = wall.at(full).map(|clock| format!(" · {clock}")).unwrap_or_default();
    let is_in = if step.bath.is_some() { " is in" } else { "" };
    let told = if is_open(schedule) { "work in the dark" } else { "the lid stays on" };
    Some(format!("{told} until {}{is_in} ({full}{clock})", naming::head(step)))
}

/// What is said where light is safe.
pub(super) fn light(schedule: &Schedule) -> &'static str {
    if is_open(schedule) { "the light may go on" } else { "the lid may come off" }
}

/// Whether the film lies in trays or hangs in open tanks, which the way it is moved tells: whoever tilts a
/// tray, lifts the film or moves sheets from the bottom to the top has no lid on.
fn is_open(schedule: &Schedule) -> bool {
    let mut motions = schedule.recipe.steps.iter().filter_map(|step| step.agitation.as_ref()?.value.by);
    motions.any(|by| match by {
        Motion::Rocking | Motion::Lifting | Motion::Shuffling => true,
        Motion::Inversion | Motion::Rotation => false,
    })
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
