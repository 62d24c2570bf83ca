//! R13. How far a bath goes: tonight's film against what its volume treats.

use super::bottle;
use super::evening::Evening;
use super::schedule::{Doubt, PlannedStep};
use super::tonight::Heed;
use super::words;
use crate::journal::Capacity;
use crate::journal::Standing;
use crate::model::{Step, Volume, decimal};
use crate::source::Diagnostic;

/// The faults told here.
pub(super) const FAULTS: &[(&str, &str)] = &[("bath-over-capacity", "more film than a bath can treat")];

/// Holds tonight's film to what the step's bath treats: over is an error, nine tenths a doubt.
pub(super) fn held(
    evening: &Evening<'_>,
    step: &Step,
    planned: &[PlannedStep],
    faults: &mut Vec<Diagnostic>,
    doubts: &mut Vec<Doubt>,
) {
    let Some((bath, solution)) = step.bath.as_ref().and_then(|bath| Some((bath, bath.solution.as_ref()?)))
    else {
        return;
    };
    let own = planned.iter().find(|planned| (planned.kind, &planned.name) == (step.kind, &step.name));
    let Some(volume) = own.and_then(|planned| planned.bath.as_ref()).map(|bath| bath.volume) else { return };
    let bottle = bottle::of_step(evening, step);
    // One that is spent already is told of as such.
    if bottle.as_ref().is_some_and(Standing::is_spent) {
        return;
    }
    let volume = bottle.as_ref().map_or(volume, |bottle| bottle.bath.volume.value);
    let treated = bottle.as_ref().map_or(0, |bottle| bottle.treated);
    let Some(capacity) = Capacity::of(solution, &bath.dilution, volume) else { return };
    let film = treated + evening.twelfths();
    let rolls = words::rolls(evening.twelfths());
    let rolls = match treated {
        0 => rolls,
        before => format!("{rolls}, after {} before", words::rolls(before)),
    };
    let comma = if treated > 0 { "," } else { "" };
    let reach = decimal(capacity.in_parts_of_a_roll(100), 100, 1);
    if !capacity.holds(film) && bottle::heeds(evening) == Heed::Refuse {
        let enough = capacity.enough_for(film);
        let message = format!(
            "{} of {} {} treats {reach} rolls, and tonight's film is {rolls}",
            words::volume(volume),
            solution.name,
            bath.dilution
        );
        faults.push(
            Diagnostic::error("bath-over-capacity", bath.span, message)
                .other(capacity.span, "how far it goes")
                .help(format!(
                    "take at least {} of it, or load fewer rolls",
                    words::volume(enough.rounded_up(Volume::from_ml(10)))
                )),
        );
    } else if capacity.is_nearly_used_up_by(film) {
        let text = format!(
            "{} of {} {} treats {reach} rolls: after tonight's {rolls}{comma} next to nothing is left in it",
            words::volume(volume),
            solution.name,
            bath.dilution
        );
        doubts.push(Doubt { rule: "R13", text });
    }
}
