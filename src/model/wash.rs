//! How often the water of a wash is changed, and for how long the material is washed.

use super::agitation::Scheme;
use super::quantity::{Flow, Time, Volume};
use super::recipe::Recipe;
use super::solution::Role;
use super::step::{Change, Duration, Step, StepKind};

/// How often one or several washes change the water, and how long they take.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Washing {
    /// The number of changes. Running water counts as one change each time that the volume of the tank has flowed
    /// through.
    pub changes: i64,
    /// For how long the material is washed.
    pub time: Time,
}

impl Washing {
    /// The fewest changes of water that are enough after a fixer.
    pub const ENOUGH: i64 = 3;
    /// The volume of the smallest tank, in which running water makes the most changes. The check of a recipe does not
    /// know the tank and assumes this volume.
    pub const LEAST_TANK: Volume = Volume::from_ml(300);
}

impl Recipe {
    /// The last bath that fixes, and the steps after it that wash or rinse.
    pub fn last_fix_and_washes(&self) -> Option<(&Step, Vec<&Step>)> {
        let fixes = |step: &Step| matches!(step.role(), Some(Role::Fixer | Role::Monobath | Role::BleachFix));
        let at = self.steps.iter().rposition(fixes)?;
        let after = self.steps.iter().skip(at + 1).filter(|step| step.is_in_water());
        let washes = after.filter(|step| matches!(step.kind, StepKind::Wash | StepKind::Rinse));
        Some((self.steps.get(at)?, washes.collect()))
    }
}

impl Step {
    /// The changes of water and the time of one step, in a tank that holds this volume. If a wash states only its time,
    /// its water counts as changed often enough.
    pub fn washing(&self, tank: Volume) -> Washing {
        let of = |changes, time| Washing { changes, time };
        match &*self.duration {
            Duration::Changes(all) => {
                let inversion = self.agitation.as_ref().map_or(Scheme::INVERSION, |scheme| scheme.inversion);
                let time = all.iter().fold(Time::ZERO, |sum, change| match change {
                    Change::Inversions(count) => sum + inversion.times(*count),
                    Change::Soak(time) => sum + *time,
                });
                of(i64::try_from(all.len()).unwrap_or(Washing::ENOUGH), time)
            }
            Duration::Flow { flow, time } => of(flow.changes_of(tank, *time), *time),
            Duration::Sign(sign) => {
                let running = sign.flow.map(|flow| flow.changes_of(tank, sign.at_most));
                of(running.unwrap_or(Washing::ENOUGH), sign.at_most)
            }
            Duration::Plain { time, .. } => of(Washing::ENOUGH, *time),
            Duration::Chart(_) | Duration::Clearing { .. } | Duration::EachSide(_) | Duration::Open => {
                of(0, Time::ZERO)
            }
        }
    }
}

impl Flow {
    /// How often running water changes the water of a tank with this volume during this time.
    pub fn changes_of(self, tank: Volume, time: Time) -> i64 {
        self.per_minute.scaled(time.ms, 60_000).fl / tank.fl.max(1)
    }
}
