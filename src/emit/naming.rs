//! The names of steps and baths on a card, where a bath goes after its step, and the clocks: a step's own (R6), the
//! evening's from the start of the first step, and the wall's, if its start is given (R16).

use jiff::{SignedDuration, civil};

use super::plain::{plain, prefixed};
use crate::compile::{PlannedBath, PlannedStep, Schedule};
use crate::model::{Clock, Duration, Role, Step, StepKind, Time, Use};

const DAY: i64 = 86_400_000;

/// `develop`, `develop second`.
pub(super) fn called(step: &PlannedStep) -> String {
    step.kind.word().to_owned() + &prefixed(" ", step.name.as_deref().map(plain))
}

/// The same with the kind in capitals: `DEVELOP second`.
pub(super) fn head(step: &PlannedStep) -> String {
    step.kind.word().to_uppercase() + &prefixed(" ", step.name.as_deref().map(plain))
}

/// A bath by its title and dilution: `MQ borax, fine grain 1+1`.
pub(super) fn bath(bath: &PlannedBath) -> String {
    plain(&bath.title) + &prefixed(" ", bath.dilution.as_ref())
}

/// The step of the recipe that this step was planned from.
pub(super) fn written<'a>(schedule: &'a Schedule, planned: &PlannedStep) -> Option<&'a Step> {
    schedule.recipe.steps.iter().find(|step| step.kind == planned.kind && step.name == planned.name)
}

/// The flow of running water: `2 l/min`.
pub(super) fn running(written: Option<&Step>) -> Option<String> {
    if let Duration::Flow { flow, .. } = &written?.duration.value { Some(flow.to_string()) } else { None }
}

/// Where a bath goes.
#[derive(Clone, Copy, PartialEq, Eq)]
pub(super) enum Fate {
    /// It is plain water.
    Water,
    Bottle,
    /// The waste can, because it holds silver.
    Silver,
    /// The waste can, because it must not go down a drain.
    Waste,
    /// The sink or the waste can, by the local code.
    Away,
    /// The recipe does not say.
    Unsaid,
}

impl Fate {
    pub(super) fn of(step: &PlannedStep, bath: &PlannedBath, written: Option<&Step>) -> Fate {
        match bath.reuse {
            _ if bath.dilution.is_none() => Fate::Water,
            Some(Use::OneShot) => spent(step.kind, written.and_then(Step::role)),
            Some(Use::Reused | Use::Replenished) => Fate::Bottle,
            None => Fate::Unsaid,
        }
    }

    /// The words after 'drain'; `None` for water.
    pub(super) fn words(self) -> Option<&'static str> {
        match self {
            Fate::Water => None,
            Fate::Bottle => Some("back to its bottle"),
            Fate::Silver => Some("into its waste can, it holds silver"),
            Fate::Waste => Some("into its waste can"),
            Fate::Away => Some("to the sink or to waste, as your local code says"),
            Fate::Unsaid => Some("keep it, the recipe does not say where it goes"),
        }
    }
}

/// Where an exhausted bath goes, by its role, else by its step. A bath that has fixed film holds silver; a bleach or
/// toner must not go down a drain. Common practice, no source.
pub(super) fn spent(kind: StepKind, role: Option<Role>) -> Fate {
    match (role, kind) {
        (Some(Role::Fixer | Role::BleachFix | Role::Monobath), _) => Fate::Silver,
        (Some(Role::Bleach | Role::Toner), _) => Fate::Waste,
        (_, StepKind::Fix | StepKind::BleachFix) => Fate::Silver,
        (_, StepKind::Bleach | StepKind::Tone) => Fate::Waste,
        _ => Fate::Away,
    }
}

/// The evening's time at which the step's own clock shows 0:00.
pub(super) fn zero(step: &PlannedStep, written: Option<&Step>) -> Time {
    let pour = step.start + step.handling;
    if starts_full(step, written) { pour + step.fill } else { pour }
}

/// Whether the step's own clock starts with the full tank.
pub(super) fn starts_full(step: &PlannedStep, written: Option<&Step>) -> bool {
    let once = step.bath.as_ref().is_some_and(|bath| bath.pours <= 1);
    once && written.is_some_and(|step| step.clock.value == Clock::FromFull)
}

/// The wall's clock at a moment of the evening, if its start is known: `19:42:10`.
pub(super) fn wall(schedule: &Schedule, moment: Time) -> Option<String> {
    let now = i64::from(schedule.conditions.start?) * 1000 + moment.ms;
    let shown = civil::Time::midnight().wrapping_add(SignedDuration::from_millis(now));
    Some(match now.div_euclid(DAY) {
        0 => shown.to_string(),
        1 => format!("{shown} next day"),
        days => format!("{shown} {days} days on"),
    })
}
