//! Where a bath goes when it is out of the tank.

use crate::compile::{PlannedBath, PlannedStep};
use crate::model::{Role, Step, StepKind, Use};

/// Where a bath goes.
#[derive(Clone, Copy, PartialEq, Eq)]
pub(super) enum Fate {
    /// Plain water.
    Water,
    /// Back where it came from.
    Bottle,
    /// Collected, since it holds silver.
    Silver,
    /// Collected, since it is not for a drain.
    Waste,
    /// Wherever the place allows.
    Away,
    /// The recipe does not say.
    Unsaid,
}

impl Fate {
    /// The fate of that step's bath.
    pub(super) fn of(step: &PlannedStep, bath: &PlannedBath, written: Option<&Step>) -> Fate {
        if bath.dilution.is_none() {
            return Fate::Water;
        }
        match bath.fate {
            Some(Use::Reused | Use::Replenished) => Fate::Bottle,
            Some(Use::OneShot) => spent(step.kind, role(written)),
            None => Fate::Unsaid,
        }
    }

    /// The words for it beside 'drain'; `None` where nothing needs saying.
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

fn role(written: Option<&Step>) -> Option<Role> {
    written?.bath.as_ref()?.solution.as_ref()?.role
}

/// Whatever has fixed holds silver; bleaches and toners are nothing for a drain unasked. The step tells where
/// the solution has no role. Common practice, no source.
pub(super) fn spent(kind: StepKind, role: Option<Role>) -> Fate {
    match role {
        Some(Role::Fixer | Role::BleachFix | Role::Monobath) => return Fate::Silver,
        Some(Role::Bleach | Role::Toner) => return Fate::Waste,
        Some(
            Role::Developer
            | Role::Stop
            | Role::Clearing
            | Role::Fogging
            | Role::Stabilizer
            | Role::Wetting
            | Role::Hardener,
        )
        | None => {}
    }
    match kind {
        StepKind::Fix | StepKind::BleachFix => Fate::Silver,
        StepKind::Bleach | StepKind::Tone => Fate::Waste,
        StepKind::Warm
        | StepKind::Presoak
        | StepKind::Develop
        | StepKind::Stop
        | StepKind::Clear
        | StepKind::Wash
        | StepKind::Expose
        | StepKind::Rinse
        | StepKind::Rest
        | StepKind::Dry => Fate::Away,
    }
}
