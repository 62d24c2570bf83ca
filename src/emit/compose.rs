//! Puts a card together: each part of it has its own file, and this is their order.

use super::card::Card;
use super::clock::Wall;
use super::plain::{all_plain, plain};
use super::{afterwards, facts, load, mix, work};
use crate::compile::Schedule;
use crate::source::Sources;

/// What overrules a card. Stands at the foot of each, whatever is in its baths.
pub(super) const CLOSING: &str =
    "a product's own safety data sheet, local codes, licensed practice come first";

/// How the times beside the work are to be read.
const CLOCK: &str = "times at the left: the step's own clock, set to 0:00 at its first drop";

/// What the card of that schedule says. `sources` names the files and lines that its numbers came from.
#[must_use]
pub fn card(schedule: &Schedule, sources: &Sources) -> Card {
    let wall = Wall::of(schedule);
    Card {
        title: plain(&schedule.recipe.title),
        fingerprint: plain(&schedule.fingerprint),
        facts: facts::facts(schedule),
        warnings: facts::warnings(schedule),
        warnings_with_rules: facts::warnings_with_rules(schedule),
        mix: mix::mix(schedule),
        load: load::places(schedule),
        lid: load::dark(schedule, wall),
        clock: CLOCK,
        work: work::blocks(schedule, sources, wall),
        total: facts::total(schedule, wall),
        afterwards: afterwards::afterwards(schedule),
        cautions: all_plain(&schedule.cautions),
        closing: CLOSING,
        notes: all_plain(&schedule.notes),
    }
}
