//! The names of steps and baths on a card.

use super::plain::plain;
use crate::compile::{PlannedBath, PlannedStep, Schedule};
use crate::model::{Duration, Step};

/// `develop`, `develop second`.
pub(super) fn called(step: &PlannedStep) -> String {
    named(step.kind.word(), step)
}

/// The same with the kind in capitals: `DEVELOP second`.
pub(super) fn head(step: &PlannedStep) -> String {
    named(&step.kind.word().to_uppercase(), step)
}

fn named(kind: &str, step: &PlannedStep) -> String {
    step.name.as_ref().map_or_else(|| kind.to_owned(), |name| format!("{kind} {}", plain(name)))
}

/// A bath by its title and dilution: `MQ borax, fine grain 1+1`.
pub(super) fn bath(bath: &PlannedBath) -> String {
    let title = plain(&bath.title);
    bath.dilution.as_ref().map_or_else(|| title.clone(), |dilution| format!("{title} {dilution}"))
}

/// The step of the recipe that this step was planned from.
pub(super) fn written<'a>(schedule: &'a Schedule, planned: &PlannedStep) -> Option<&'a Step> {
    schedule.recipe.steps.iter().find(|step| step.kind == planned.kind && step.name == planned.name)
}

/// The flow of running water: `2 l/min`.
pub(super) fn running(written: Option<&Step>) -> Option<String> {
    if let Duration::Flow { flow, .. } = &written?.duration.value { Some(flow.to_string()) } else { None }
}
