//! R11, R13. The bottle of the darkroom that a step pours from, and how much film its bath still treats.

use std::sync::Arc;

use super::evening::Evening;
use super::schedule::{Doubt, PlannedBottle, PlannedStep};
use super::words;
use crate::journal::{Capacity, Standing, Verdict};
use crate::model::{Bath, Step, Use, Volume, decimal};
use crate::source::Diagnostic;

/// The errors of this file.
pub(super) const FAULTS: &[(&str, &str)] = &[
    ("bath-over-capacity", "more film than a bath can treat"),
    ("bottle-not-there", "a bath that is not made yet on the day, or was poured away"),
    ("bottle-exhausted", "a bath that clears in twice the fresh time, or has treated all it goes for"),
    ("bottle-past-keeping", "a bath that is older than it keeps"),
    ("bottle-too-small", "a bath of which there is less than tonight's load needs"),
];

/// The bottle that a step pours from, on the day; `None` where the step keeps no bath or no bottle has it.
/// Steps of one bath and several bottles pour from them in the order they were named.
pub(super) fn of_step<'a>(evening: &Evening<'a>, step: &Step) -> Option<Standing<'a>> {
    let bottles = evening.conditions.bottles.as_ref()?;
    let bath = kept(step)?;
    let solution = bath.solution.as_ref()?;
    let darkroom = &evening.shelf.darkroom;
    let named = bottles.from.iter().filter_map(|span| darkroom.bottles().find(|bottle| bottle.span == *span));
    let fitting: Vec<_> = named
        .filter(|bottle| Arc::ptr_eq(&bottle.solution, solution) && bottle.dilution == bath.dilution)
        .collect();
    let same = |other: &&Step| {
        kept(other).is_some_and(|other| {
            other.dilution == bath.dilution
                && other.solution.as_ref().is_some_and(|own| Arc::ptr_eq(own, solution))
        })
    };
    let before = evening.recipe.steps.iter().take_while(|other| !std::ptr::eq(*other, step));
    let bottle = fitting.get(before.filter(same).count()).or_else(|| fitting.last())?;
    Some(Standing::of(darkroom, bottle, bottles.on))
}

fn kept(step: &Step) -> Option<&Bath> {
    step.bath.as_ref().filter(|bath| bath.fate.is_some_and(Use::is_kept))
}

/// The bottle as the schedule has it.
pub(super) fn planned(evening: &Evening<'_>, step: &Step) -> Option<PlannedBottle> {
    let standing = of_step(evening, step)?;
    Some(PlannedBottle {
        name: standing.bath.name.clone(),
        on: standing.on,
        treated: standing.treated,
        left: standing.left_after(evening.twelfths()),
    })
}

/// Whether an exhausted bottle gives a warning instead of an error.
fn accepts_exhausted(evening: &Evening<'_>) -> bool {
    evening.conditions.bottles.as_ref().is_some_and(|bottles| bottles.accept_exhausted)
}

/// Checks the bottle of a step against tonight's film; `own` is the step as planned.
pub(super) fn check(
    evening: &Evening<'_>,
    step: &Step,
    own: Option<&PlannedStep>,
    errors: &mut Vec<Diagnostic>,
    warnings: &mut Vec<Doubt>,
) {
    let Some((standing, bath)) = of_step(evening, step).zip(kept(step)) else { return };
    let name = &standing.bath.name;
    let error = |rule, message: String| {
        Diagnostic::error(rule, bath.span, message).other(standing.bath.span, "the bottle")
    };
    if !standing.is_made() || standing.is_discarded() {
        let is = if standing.is_made() { "was poured away already" } else { "was not made yet" };
        let message = format!("on {} the bath '{name}' {is}", standing.on);
        errors.push(
            error("bottle-not-there", message).help("name another with --bath, or give the day with --date"),
        );
        return;
    }
    let held = standing.bath.volume.value;
    if let Some(poured) = own.and_then(PlannedStep::volume).filter(|poured| held < *poured) {
        let message = format!(
            "'{name}' holds {}, but tonight's load needs {}",
            words::volume(held),
            words::volume(poured)
        );
        errors.push(error("bottle-too-small", message).help("load fewer rolls, or make up a larger bottle"));
    }
    let (rule, message) = match standing.verdict() {
        Verdict::ClearsTooSlowly => {
            ("bottle-exhausted", format!("'{name}' clears in twice the fresh time or more: it is exhausted"))
        }
        Verdict::Spent => {
            let treated = decimal(standing.treated, 12, 2);
            ("bottle-exhausted", format!("'{name}' has treated {treated} rolls, its full capacity"))
        }
        Verdict::PastKeeping => {
            let until = standing.keeps_until.map(|until| until.to_string()).unwrap_or_default();
            ("bottle-past-keeping", format!("'{name}' keeps until {until}, but the day is {}", standing.on))
        }
        Verdict::Discarded | Verdict::NearlySpent | Verdict::Good => return,
    };
    if accepts_exhausted(evening) {
        warnings.push(Doubt { rule, text: message });
    } else {
        errors.push(error(rule, message).help(
            "mix it again and declare the new bottle; or test it first and pour from it all the same: --spent-too",
        ));
    }
}

/// R13. Checks tonight's film against what the step's bath treats: over is an error, nine tenths a warning.
pub(super) fn check_capacity(
    evening: &Evening<'_>,
    step: &Step,
    own: Option<&PlannedStep>,
    errors: &mut Vec<Diagnostic>,
    warnings: &mut Vec<Doubt>,
) {
    let Some(bath) = &step.bath else { return };
    let (Some(solution), Some(poured)) = (&bath.solution, own.and_then(PlannedStep::volume)) else { return };
    let bottle = of_step(evening, step);
    // An exhausted bottle has its own error.
    if bottle.as_ref().is_some_and(Standing::is_spent) {
        return;
    }
    let (volume, treated) = bottle.map_or((poured, 0), |bottle| (bottle.bath.volume.value, bottle.treated));
    let Some(capacity) = Capacity::of(solution, &bath.dilution, volume) else { return };
    let film = treated + evening.twelfths();
    let (rolls, comma) = match (words::rolls(evening.twelfths()), treated) {
        (rolls, 0) => (rolls, ""),
        (rolls, before) => (format!("{rolls}, after {} before", words::rolls(before)), ","),
    };
    let treats = format!(
        "{} of {} {} treats {} rolls",
        words::volume(volume),
        solution.name,
        bath.dilution,
        decimal(capacity.in_parts_of_a_roll(100), 100, 1)
    );
    if !capacity.holds(film) && !accepts_exhausted(evening) {
        let enough = capacity.enough_for(film).rounded_up(Volume::from_ml(10));
        let message = format!("{treats}, but tonight's film is {rolls}");
        errors.push(
            Diagnostic::error("bath-over-capacity", bath.span, message)
                .other(capacity.span, "its capacity")
                .help(format!("take at least {} of it, or load fewer rolls", words::volume(enough))),
        );
    } else if capacity.is_nearly_used_up_by(film) {
        let text = format!("{treats}: after tonight's {rolls}{comma} it is nearly exhausted");
        warnings.push(Doubt { rule: "R13", text });
    }
}
