//! R13. How far a bath goes: tonight's film against what its volume treats.

use super::evening::Evening;
use super::schedule::{Doubt, PlannedStep};
use super::words;
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
    let exact = solution.treats.iter().find(|treats| treats.at.as_ref() == Some(&bath.dilution));
    let Some(treats) = exact.or_else(|| solution.treats.iter().find(|treats| treats.at.is_none())) else {
        return;
    };
    // Both in twelfths of a roll times femtolitres, so that nothing is rounded.
    let film = i128::from(evening.twelfths()) * i128::from(treats.per.fl);
    let room = i128::from(volume.fl) * i128::from(treats.rolls) * 12;
    let rolls = words::rolls(evening.twelfths());
    let reach = decimal(
        i64::try_from(room * 100 / i128::from(treats.per.fl.max(1)) / 12).unwrap_or(i64::MAX),
        100,
        1,
    );
    if film > room {
        let enough = Volume { fl: i64::try_from(film / (i128::from(treats.rolls) * 12)).unwrap_or(i64::MAX) };
        let message = format!(
            "{} of {} {} treats {reach} rolls, and tonight's film is {rolls}",
            words::volume(volume),
            solution.name,
            bath.dilution
        );
        faults.push(
            Diagnostic::error("bath-over-capacity", bath.span, message)
                .other(treats.span, "how far it goes")
                .help(format!(
                    "take at least {} of it, or load fewer rolls",
                    words::volume(enough.rounded_up(Volume::from_ml(10)))
                )),
        );
    } else if film * 10 >= room * 9 {
        let text = format!(
            "{} of {} {} treats {reach} rolls: after tonight's {rolls} next to nothing is left in it",
            words::volume(volume),
            solution.name,
            bath.dilution
        );
        doubts.push(Doubt { rule: "R13", text });
    }
}
