//! The clocks of a card: a step's own (R6), the evening's from the start of the first step, and the wall's, if its
//! start is given (R16).

use crate::compile::{PlannedStep, Schedule};
use crate::model::{Clock, Step, Time};

const DAY: i64 = 86_400_000;

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

/// The clock on the wall, if its start is known.
#[derive(Clone, Copy)]
pub(super) struct Wall {
    start: Option<Time>,
}

impl Wall {
    pub(super) fn of(schedule: &Schedule) -> Wall {
        Wall { start: schedule.conditions.start.map(|seconds| Time::from_seconds(i64::from(seconds))) }
    }

    /// Its time at a moment of the evening: `19:42:10`.
    pub(super) fn at(self, moment: Time) -> Option<String> {
        let now = (self.start? + moment).ms;
        let (seconds, part) = (now.rem_euclid(DAY) / 1000, now.rem_euclid(1000));
        let mut shown = format!("{:02}:{:02}:{:02}", seconds / 3600, seconds / 60 % 60, seconds % 60);
        if part != 0 {
            shown.push_str(format!(".{part:03}").trim_end_matches('0'));
        }
        match now.div_euclid(DAY) {
            0 => {}
            1 => shown.push_str(" next day"),
            days => shown.push_str(&format!(" {days} days on")),
        }
        Some(shown)
    }
}
