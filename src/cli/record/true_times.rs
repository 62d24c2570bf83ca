//! The options `--took` and `--read` of `record`: the true times of steps, and the temperatures that were read during
//! steps.

use super::super::given::{self, StepAsked};
use crate::compile::{PlannedStep, Schedule};
use crate::model::{Temperature, Time};

/// The true time of a step, as `--took` gives it.
pub(super) type Took = (StepAsked, Time);

/// A temperature that `--read` gives for a step, and the time of the reading since the start of the step.
pub(super) type Read = (StepAsked, Time, Temperature);

pub(super) fn took(text: &str) -> Result<Took, String> {
    let (step, time) =
        text.split_once('=').ok_or_else(|| format!("'{text}' has no time; write develop=8:59"))?;
    Ok((given::step(step)?, given::value::<Time, _>(time)?))
}

pub(super) fn read(text: &str) -> Result<Read, String> {
    let parts = text.split_once('=').and_then(|(step, rest)| Some((step, rest.split_once('=')?)));
    let (step, (time, temperature)) = parts.ok_or_else(|| {
        format!("'{text}' is not a step, a time and a temperature; write develop=3:10=22.1C")
    })?;
    Ok((given::step(step)?, given::value::<Time, _>(time)?, given::temperature(temperature)?.0))
}

/// The lines of a session for `--took` and `--read`. The line for `--took` also states the times of `schedule`, which
/// are those on the card.
pub(super) fn lines(took: &[Took], read: &[Read], schedule: Option<&Schedule>) -> Vec<String> {
    let planned = |(kind, name): &StepAsked| {
        let mut steps = schedule.iter().flat_map(|schedule| &schedule.steps);
        let is_asked = |step: &&PlannedStep| step.kind == *kind && (name.is_none() || step.name == *name);
        steps.find(is_asked).filter(|step| step.decision.is_none()).map(|step| step.duration)
    };
    let took: Vec<String> = took
        .iter()
        .map(|(step, time)| {
            let of = planned(step).map(|of| format!(" of {of}")).unwrap_or_default();
            format!("{} {time}{of}", words(step))
        })
        .collect();
    let read: Vec<String> =
        read.iter().map(|(step, at, temperature)| format!("{} {at} {temperature}", words(step))).collect();
    let line = |word: &str, all: Vec<String>| (!all.is_empty()).then(|| format!("{word} {}", all.join(", ")));
    line("took", took).into_iter().chain(line("read", read)).collect()
}

fn words((kind, name): &StepAsked) -> String {
    let name = name.as_ref().map(|name| format!(" {name}")).unwrap_or_default();
    format!("{}{name}", kind.word())
}
