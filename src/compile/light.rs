//! When room light may reach the film: not before the film has been in the fixer for its clearing time.

use super::evening::Evening;
use super::legs::Decision;
use super::schedule::{Because, Light, PlannedStep};
use super::words;
use crate::journal::APART_MAX;
use crate::model::{Lighting, Material, Role, Step, StepKind, Time};
use crate::source::{Diagnostic, Span};

/// The clearing time in an acid rapid fixer, if none is known: US Army, Laboratory Procedures, subcourse SS0509, 1988,
/// page 24.
const UNKNOWN_IN_RAPID: Time = Time::from_seconds(2 * 60);
/// The clearing time in a fixer that is no acid rapid fixer, if none is known: Clerc, Photography: Theory and Practice,
/// 1937, § 411.
const UNKNOWN: Time = Time::from_seconds(3 * 60);

/// How long the film needs in the fixer before light may reach it.
struct Needed {
    time: Time,
    text: String,
    from: Vec<Span>,
}

impl Evening<'_> {
    /// The moment from which room light may reach the film. `None` if no step states room light, or if the recipe
    /// begins in room light and never leaves it; also `None`, with an error, if the film is not clear by the end of
    /// the step that states room light. Adds the calculation to the step in which the film clears.
    pub(super) fn light(&self, planned: &mut [PlannedStep], errors: &mut Vec<Diagnostic>) -> Option<Light> {
        let steps = &self.recipe.steps;
        let begins_lit = self.recipe.lighting.as_ref().is_some_and(|light| light.value == Lighting::Room);
        let dark = match begins_lit {
            true => steps.iter().position(|step| step.lighting.is_some() && step.room_light().is_none())?,
            false => 0,
        };
        let stated = dark + steps.iter().skip(dark).position(|step| step.room_light().is_some())?;
        let span = steps.get(stated)?.room_light()?;
        let full = planned.get(stated)?.full();
        let Some(fixing) = self.fixing_before(stated) else {
            let at = if self.needs_dark_until_its_end(stated) { planned.get(stated)?.end } else { full };
            return Some(Light { at, step: stated, in_fixer: None });
        };
        let step = steps.get(fixing)?;
        if self.is_paper_without_clearing(step) {
            let is_fixing = steps.get(stated)?.kind == StepKind::Fix;
            let at = if is_fixing { planned.get(stated)?.end } else { full };
            return Some(Light { at, step: stated, in_fixer: None });
        }
        let needed = self.needed_in(step);
        let mut left = needed.time;
        for (at, (step, own)) in
            steps.iter().zip(planned.iter_mut()).enumerate().take(stated + 1).skip(fixing)
        {
            if step.kind != StepKind::Fix {
                continue;
            }
            // If a person ends the step at a sign, only its shortest allowed time counts.
            let held =
                own.end - own.drain - own.full() - own.decision.as_ref().map_or(Time::ZERO, Decision::slack);
            if left <= held {
                let clear = own.full() + left;
                if clear <= full {
                    return Some(Light { at: full, step: stated, in_fixer: Some(needed.time) });
                }
                own.because.push(Because::new("/light_from_ms", "R11", needed.text, needed.from));
                return Some(Light { at: clear, step: at, in_fixer: Some(needed.time) });
            }
            left = left - held;
        }
        let (had, material) = (needed.time - left, self.film.material.word());
        let message = format!(
            "light reaches the {material} after {} in the fixer, but the {material} needs {}",
            words::time(had),
            words::time(needed.time)
        );
        let error = Diagnostic::error("light-before-clear", span, message);
        // The help says where the needed time comes from, unless it is just the film's clearing time.
        let is_of_film = needed.text == format!("the {material} clears in {}", words::time(needed.time));
        let error = if is_of_film { error } else { error.help(needed.text) };
        let error = needed.from.iter().fold(error, |error, span| error.other(*span, "the clearing time"));
        errors.push(error.help("fix for longer, or move this line to a step after more fixing"));
        None
    }

    /// The index of the first fixing step among the steps up to the step `stated`; `None` if no step fixes. `None` too
    /// if the film need not be clear before light reaches it: because the film was bleached or fogged before, or
    /// because this recipe neither develops nor coats it.
    fn fixing_before(&self, stated: usize) -> Option<usize> {
        let before = self.recipe.steps.get(..=stated)?;
        let is_safe = |step: &Step| step.kind == StepKind::Bleach || step.role() == Some(Role::Fogging);
        let is_sensitive = |step: &Step| matches!(step.kind, StepKind::Develop | StepKind::Coat);
        if before.iter().any(is_safe) || !before.iter().any(is_sensitive) {
            return None;
        }
        before.iter().position(|step| step.kind == StepKind::Fix)
    }

    /// Whether the material is a paper that states no clearing time in the fixer of the step, and no leader gives
    /// tonight's clearing time. Light may reach such a paper at the end of the fixing.
    fn is_paper_without_clearing(&self, step: &Step) -> bool {
        let stated = step.bath.as_ref().and_then(|bath| self.film.clearing_in(bath));
        self.film.material == Material::Paper && stated.is_none() && self.leader_in(step).is_none()
    }

    /// Whether the film must stay dark until the end of the step that states room light. This holds for a monobath,
    /// for a bleach-fix, and for a bleach after which no reversal exposes, fogs or develops the rest of the silver.
    fn needs_dark_until_its_end(&self, stated: usize) -> bool {
        let Some(step) = self.recipe.steps.get(stated) else { return false };
        let after = self.recipe.steps.iter().skip(stated + 1);
        let mut reverses = after.filter(|step| {
            matches!(step.kind, StepKind::Expose | StepKind::Develop) || step.role() == Some(Role::Fogging)
        });
        match step.kind {
            StepKind::Bleach => reverses.next().is_none(),
            StepKind::BleachFix => true,
            _ => step.role() == Some(Role::Monobath),
        }
    }

    /// The clearing time of tonight's film in the fixer of a step. For used fixer without a test, it is twice the time
    /// of fresh fixer.
    fn needed_in(&self, step: &Step) -> Needed {
        if let Some(time) = self.leader_in(step) {
            let text = format!("tonight's leader cleared in {}", words::time(time));
            return Needed { time, text, from: Vec::new() };
        }
        let stated = step.bath.as_ref().and_then(|bath| self.film.clearing_in(bath));
        let coldest = self.course(step).map(|course| course.from.min(course.to));
        if let Some(clearing) = stated.and_then(|stated| self.clearing(step, stated).ok())
            && coldest.is_none_or(|coldest| clearing.at.above(coldest) <= APART_MAX)
        {
            let is_used = self.bottle(step).is_some_and(|one| one.treated > 0 && one.cleared.is_none());
            let (time, used) = match is_used {
                true => (clearing.time.times(2), ", twice that of fresh fixer: this bottle has no test"),
                false => (clearing.time, ""),
            };
            let material = self.film.material.word();
            let text = format!("the {material} clears in {}{}{used}", words::time(time), clearing.source);
            return Needed { time, text, from: vec![clearing.span] };
        }
        let rapid = step.solution().is_some_and(|solution| {
            solution.is_acid() && solution.ingredients().iter().any(|one| one.name == "ammonium-thiosulfate")
        });
        let time = if rapid { UNKNOWN_IN_RAPID } else { UNKNOWN };
        let text = format!("no clearing time in this fixer is known for tonight, so {time} is assumed");
        Needed { time, text, from: Vec::new() }
    }
}
