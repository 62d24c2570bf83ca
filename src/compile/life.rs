//! Baths that keep only for hours or minutes. Such a bath is mixed before the session, or during the session shortly
//! before its step.

use super::evening::Evening;
use super::schedule::{Action, Because, Event, PlannedStep, Schedule};
use super::words;
use crate::model::{KeepsFor, Step, Time};
use crate::source::Diagnostic;

/// A bath that is mixed during the session is mixed five minutes before its pour: common practice, no source.
const AHEAD: Time = Time::from_seconds(5 * 60);
/// A bath that keeps for at most one hour is mixed during the session: common practice, no source.
const SHORT: Time = Time::from_seconds(60 * 60);

impl Schedule {
    /// The steps whose baths are mixed at this time of the schedule.
    pub fn mixed_at(&self, at: Time) -> impl Iterator<Item = &PlannedStep> {
        self.steps.iter().filter(move |step| step.bath.as_ref().is_some_and(|bath| bath.mixed == Some(at)))
    }
}

impl Evening<'_> {
    /// For each bath that keeps only for hours or minutes, sets how long it keeps and when it is mixed. It is an error
    /// if the bath is too old when the last step that uses it ends.
    pub(super) fn mix_in_time(&self, steps: &mut [PlannedStep], errors: &mut Vec<Diagnostic>) {
        for (at, step) in self.recipe.steps.iter().enumerate() {
            let Some((bath, solution)) = step.bath.as_ref().zip(step.solution()) else { continue };
            // `check_bottle` checks the keeping time of a declared bottle.
            if bath.used.is_some() || self.bottle(step).is_some() {
                continue;
            }
            let Some(keeps) = solution.keeps_at(&bath.dilution) else { continue };
            let KeepsFor::Clock(life) = keeps.time else { continue };
            let uses = steps.iter().enumerate().filter(|(index, other)| {
                *index == at || other.bath.as_ref().is_some_and(|bath| bath.used == Some(at))
            });
            let end = uses.map(|(_, step)| step.end).max().unwrap_or(Time::ZERO);
            let Some(pour) = steps.get(at).map(|step| step.start + step.handling) else { continue };
            let during = AHEAD < pour && (life <= SHORT || life < end);
            let mixing = during.then(|| {
                let (wanted, open) = mixing_time(steps.get(..at).unwrap_or(&[]), pour - AHEAD);
                let (mixed, busy) = add_mixing(steps, wanted);
                let title = |at: Option<usize>| self.recipe.steps.get(at?).map(Step::title);
                (mixed, reason(pour - mixed, title(open), title(busy)))
            });
            let mixed = mixing.as_ref().map(|(mixed, _)| *mixed);
            let age = end - mixed.unwrap_or(Time::ZERO);
            if life < age {
                let message = format!(
                    "at the end of {} its bath is {age} old, but {} {} keeps {}",
                    step.title(),
                    solution.name,
                    bath.dilution,
                    keeps.time
                );
                errors.push(
                    Diagnostic::error("bath-dies-in-use", bath.span, message)
                        .other(keeps.span, "how long it keeps")
                        .help("shorten the step, or take a bath that keeps longer"),
                );
            }
            let Some(planned) = steps.get_mut(at) else { continue };
            if let Some(bath) = &mut planned.bath {
                (bath.mixed, bath.lives) = (mixed, Some(life));
            }
            let because = mixing.map(|(_, reason)| {
                let text = format!("{reason}; it keeps {}", keeps.time);
                Because::new("/mix_at_ms", "R13", text, vec![keeps.span])
            });
            planned.because.extend(because);
        }
    }
}

/// When to mix a bath that should be mixed at `wanted`. `before` are the steps before the step that uses the bath. A
/// step that a person ends at a sign can end earlier than planned. If such a step runs at `wanted`, the bath could be
/// late. The bath is then mixed at the start of that step, and the index of that step is returned too.
fn mixing_time(before: &[PlannedStep], wanted: Time) -> (Time, Option<usize>) {
    let last = before.iter().rposition(|step| step.decision.is_some());
    let open = last.and_then(|at| Some((at, before.get(at)?)));
    match open.filter(|(_, step)| step.start < wanted && wanted < step.end) {
        Some((at, step)) => (step.start, Some(at)),
        None => (wanted, None),
    }
}

/// Adds the action of mixing to the step that runs at `wanted`, and returns when mixing begins. If another action of
/// the step is under way at `wanted`, mixing comes before that action, and the index of the step is returned too.
fn add_mixing(steps: &mut [PlannedStep], wanted: Time) -> (Time, Option<usize>) {
    let now = steps.iter_mut().enumerate().find(|(_, step)| step.start <= wanted && wanted < step.end);
    let Some((place, step)) = now else {
        return (wanted, None);
    };
    let busy = step.events.iter().find(|event| event.at < wanted && wanted < event.at + event.length);
    let at = busy.map_or(wanted, |event| event.at);
    let busy = busy.map(|_| place);
    let before = step.events.iter().position(|event| at <= event.at).unwrap_or(step.events.len());
    step.events.insert(before, Event::new(at, Time::ZERO, Action::Mix));
    (at, busy)
}

/// Why a bath is mixed by the time `ahead` before its pour. It is mixed earlier than usual if the step `open` may end
/// at any time, or if the step `busy` leaves no hand free.
fn reason(ahead: Time, open: Option<String>, busy: Option<String>) -> String {
    let (ahead, usual) = (words::time(ahead), words::time(AHEAD));
    match (open, busy) {
        (_, Some(step)) => format!("{ahead} before its pour instead of {usual}: {step} leaves no hand free"),
        (Some(step), None) => {
            format!("{ahead} before its pour instead of {usual}: {step} may end at any time")
        }
        (None, None) => format!("{ahead} before its pour"),
    }
}
