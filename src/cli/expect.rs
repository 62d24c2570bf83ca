//! The value of `--expect`: when a person will probably end the steps that end at a sign (R18). A calendar and a sound
//! track need it, because they have fixed times.

use super::given::{self, StepAsked};
use super::{Failure, fail};
use crate::compile::{Decision, PlannedStep, Schedule};
use crate::model::Time;

/// A step that a person ends at a sign, and the expected time of the sign, counted from the start of the step.
#[derive(Debug, Clone)]
pub(super) struct Expected {
    step: StepAsked,
    time: Time,
}

pub(super) fn expected(text: &str) -> Result<Expected, String> {
    let (step, time) =
        text.split_once('=').ok_or_else(|| format!("'{text}' has no time; write bleach=5:00"))?;
    Ok(Expected { step: given::step(step)?, time: given::value::<Time, _>(time)? })
}

/// The schedule in which each step that ends at a sign ends at its expected time. `form` names the output for error
/// messages, as in `a calendar`.
pub(super) fn decided(schedule: &Schedule, form: &str, expected: &[Expected]) -> Result<Schedule, Failure> {
    if let Some(other) = expected.iter().find(|own| !schedule.steps.iter().any(|step| is_of(own, step))) {
        let (kind, name) = &other.step;
        let name = name.as_ref().map_or(String::new(), |name| format!(" {name}"));
        return fail(
            format!("no step {}{name} of {} ends at a sign", kind.word(), schedule.recipe.name),
            "leave it out of --expect",
        );
    }
    let mut decided = schedule.clone();
    for step in &schedule.steps {
        let Some(decision) = &step.decision else { continue };
        let exact = expected.iter().find(|own| is_of(own, step) && own.step.1.is_some());
        let Some(own) = exact.or_else(|| expected.iter().find(|own| is_of(own, step))) else {
            let name = option_name(step);
            return fail(
                format!(
                    "a person ends the step {}, so {form} does not know when",
                    name.replacen('-', " ", 1)
                ),
                format!("write when you expect the signs: --expect {}", example(schedule)),
            );
        };
        let can_be = decision.times.is_some() || (decision.least..=decision.most).contains(&own.time);
        if !can_be {
            return fail(
                format!(
                    "{} takes {} to {}, not {}",
                    option_name(step),
                    decision.least,
                    decision.most,
                    own.time
                ),
                "write a time between the two",
            );
        }
        decided = decided.decided(1, own.time);
    }
    Ok(decided)
}

/// Whether `step` is the step that `expected` names, and ends at a sign.
fn is_of(expected: &Expected, step: &PlannedStep) -> bool {
    let (kind, name) = &expected.step;
    step.decision.is_some() && *kind == step.kind && (name.is_none() || *name == step.name)
}

/// The kind and name of a step, as the value of an option names it: `wash-bleach-out`.
fn option_name(step: &PlannedStep) -> String {
    let name = step.name.as_ref().map_or(String::new(), |name| format!("-{name}"));
    format!("{}{name}", step.kind.word())
}

/// An example value of `--expect`: each step that ends at a sign, with the latest time of the sign.
fn example(schedule: &Schedule) -> String {
    let latest = |decision: &Decision| match decision.times {
        Some(times) => {
            let thousandths = times.in_base(1000).unwrap_or(1000).max(1);
            Time::from_seconds((decision.most.ms + thousandths - 1) / thousandths)
        }
        None => decision.most,
    };
    let all = schedule.steps.iter().filter_map(|step| {
        let decision = step.decision.as_ref()?;
        Some(format!("{}={}", option_name(step), latest(decision)))
    });
    all.collect::<Vec<_>>().join(",")
}
