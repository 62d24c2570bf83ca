//! The bottle of one's own darkroom that a step pours from: which it is, whether it still does, and what its
//! having treated film means for tonight (R11, R13).

use super::evening::Evening;
use super::schedule::{Doubt, PlannedBottle, PlannedStep};
use super::tonight::Heed;
use super::words;
use crate::journal::{Standing, Verdict};
use crate::model::{Step, Use, decimal};
use crate::source::Diagnostic;

/// The faults told here.
pub(super) const FAULTS: &[(&str, &str)] = &[
    ("bottle-not-there", "a bath that is not made yet on the day, or was poured away"),
    ("bottle-exhausted", "a bath that clears in twice the fresh time, or has treated all it goes for"),
    ("bottle-past-keeping", "a bath that is older than it keeps"),
    ("bottle-too-small", "a bath of which there is less than tonight's load needs"),
];

/// The bottle that a step pours from, as it stands on the day; `None` where the step keeps no bath or nobody has
/// a bottle of it. Steps of one bath and several bottles pour from them in the order they were named.
pub(super) fn of_step<'a>(evening: &Evening<'a>, step: &Step) -> Option<Standing<'a>> {
    let bottles = evening.conditions.bottles.as_ref()?;
    let bath = kept(step)?;
    let solution = bath.solution.as_ref()?;
    let darkroom = &evening.shelf.darkroom;
    let fitting = bottles.from.iter().filter_map(|span| {
        let bottle = darkroom.bottles().find(|bottle| bottle.span == *span)?;
        let fits = std::sync::Arc::ptr_eq(&bottle.solution, solution) && bottle.dilution == bath.dilution;
        fits.then_some(bottle)
    });
    let fitting: Vec<_> = fitting.collect();
    let same = |other: &&Step| {
        kept(other).is_some_and(|other| {
            other.dilution == bath.dilution
                && other.solution.as_ref().is_some_and(|own| std::sync::Arc::ptr_eq(own, solution))
        })
    };
    let before = evening.recipe.steps.iter().take_while(|other| !std::ptr::eq(*other, step));
    let bottle = fitting.get(before.filter(same).count()).or_else(|| fitting.last())?;
    Some(Standing::of(darkroom, bottle, bottles.on))
}

fn kept(step: &Step) -> Option<&crate::model::Bath> {
    step.bath.as_ref().filter(|bath| matches!(bath.fate, Some(Use::Reused | Use::Replenished)))
}

/// What the card says of the bottle.
pub(super) fn planned(evening: &Evening<'_>, step: &Step) -> Option<PlannedBottle> {
    let standing = of_step(evening, step)?;
    Some(PlannedBottle {
        name: standing.bath.name.clone(),
        on: standing.on,
        treated: standing.treated,
        left: standing.left_after(evening.twelfths()),
    })
}

/// Holds the bottle of a step to tonight: what speaks against it is an error, or a doubt where one was told to
/// pour from it all the same.
pub(super) fn held(
    evening: &Evening<'_>,
    step: &Step,
    own: Option<&PlannedStep>,
    faults: &mut Vec<Diagnostic>,
    doubts: &mut Vec<Doubt>,
) {
    let Some((standing, bath)) = of_step(evening, step).zip(kept(step)) else { return };
    let name = &standing.bath.name;
    let fault = |fault, message: String| {
        Diagnostic::error(fault, bath.span, message).other(standing.bath.span, "the bottle")
    };
    if !standing.is_made() || standing.is_discarded() {
        let is = if standing.is_made() { "was poured away already" } else { "was not made yet" };
        let message = format!("on {} the bath '{name}' {is}", standing.on);
        faults.push(fault("bottle-not-there", message).help("name another with --bath, or say the day"));
        return;
    }
    let poured = own.and_then(|own| own.bath.as_ref()).map(|bath| bath.volume);
    if let Some(poured) = poured.filter(|poured| standing.bath.volume.value < *poured) {
        let message = format!(
            "'{name}' holds {}, and tonight's load needs {}",
            words::volume(standing.bath.volume.value),
            words::volume(poured)
        );
        faults.push(fault("bottle-too-small", message).help("load fewer rolls, or make a larger bottle up"));
    }
    let against = match standing.verdict() {
        Verdict::ClearsTooSlowly => Some((
            "bottle-exhausted",
            format!("'{name}' clears in twice the fresh time or more: it is exhausted"),
        )),
        Verdict::Spent => {
            let treated = decimal(standing.treated, 12, 2);
            Some(("bottle-exhausted", format!("'{name}' has treated {treated} rolls, all that it goes for")))
        }
        Verdict::PastKeeping => {
            let until = standing.keeps_until.map(|until| until.to_string()).unwrap_or_default();
            Some(("bottle-past-keeping", format!("'{name}' keeps until {until}, and it is {}", standing.on)))
        }
        Verdict::Discarded | Verdict::NearlySpent | Verdict::Good => None,
    };
    let Some((rule, message)) = against else { return };
    if heeds(evening) == Heed::Warn {
        doubts.push(Doubt { rule, text: message });
        return;
    }
    faults.push(fault(rule, message).help(
        "mix it anew and declare the new bottle; or pour from it all the same, with a test first: --spent-too",
    ));
}

/// Whether what speaks against a bottle is heeded tonight.
pub(super) fn heeds(evening: &Evening<'_>) -> Heed {
    evening.conditions.bottles.as_ref().map_or(Heed::Refuse, |bottles| bottles.heed)
}
