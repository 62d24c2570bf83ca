//! What a card calls a step and a bath, so that mixing, work and afterwards speak of one thing by one
//! name; and which statement of the recipe a planned step came from.

use crate::compile::{PlannedBath, PlannedStep, Schedule};
use crate::model::{Duration, Step};

use super::plain::plain;

/// As people call it: `develop`, `develop second`.
pub(super) fn called(step: &PlannedStep) -> String {
    match &step.name {
        Some(name) => format!("{} {}", step.kind.word(), plain(name)),
        None => step.kind.word().to_owned(),
    }
}

/// The same for the head of a block: the kind in capitals, the name as it is.
pub(super) fn head(step: &PlannedStep) -> String {
    match &step.name {
        Some(name) => format!("{} {}", step.kind.word().to_uppercase(), plain(name)),
        None => step.kind.word().to_uppercase(),
    }
}

/// A bath by its title and strength: `MQ borax, fine grain 1+1`.
pub(super) fn bath(bath: &PlannedBath) -> String {
    match &bath.dilution {
        Some(dilution) => format!("{} {dilution}", plain(&bath.title)),
        None => plain(&bath.title),
    }
}

/// The step of the recipe that was planned here.
pub(super) fn written<'a>(schedule: &'a Schedule, planned: &PlannedStep) -> Option<&'a Step> {
    schedule.recipe.steps.iter().find(|step| step.kind == planned.kind && step.name == planned.name)
}

/// How fast the water runs: `2 l/min`; `None` where it stands.
pub(super) fn running(written: Option<&Step>) -> Option<String> {
    match &written?.duration.value {
        Duration::Flow { flow, .. } => Some(flow.to_string()),
        Duration::Chart(_)
        | Duration::Plain { .. }
        | Duration::Clearing { .. }
        | Duration::EachSide(_)
        | Duration::Changes(_) => None,
    }
}
