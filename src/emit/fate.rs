//! Where a bath goes after its step.

use crate::compile::{Action, PlannedBath, PlannedStep};
use crate::model::{Role, Step, StepKind, Use};

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
        if bath.dilution.is_none() {
            return Fate::Water;
        }
        match bath.fate {
            Some(Use::Reused | Use::Replenished) => Fate::Bottle,
            Some(Use::OneShot) => {
                let solution = written.and_then(Step::solution);
                spent(step.kind, solution.and_then(|solution| solution.role))
            }
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

/// How a step empties the tank: `drain: back to its bottle`.
pub(super) fn emptied(step: &PlannedStep, written: Option<&Step>, action: Action) -> String {
    let verb = if action == Action::Dump { "dump" } else { "drain" };
    match step.bath.as_ref().and_then(|bath| Fate::of(step, bath, written).words()) {
        Some(words) => format!("{verb}: {words}"),
        None => verb.to_owned(),
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
