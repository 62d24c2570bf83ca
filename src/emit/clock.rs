//! The clocks of a card: a step's own (R6), the evening's, which starts with the first step, and the one on
//! the wall, which is known only if its start was given (R16).

use crate::compile::{PlannedStep, Schedule};
use crate::model::{Clock, Step, Time};

const DAY: Time = Time::from_seconds(86_400);

/// When the step's own clock shows 0:00, by the evening's.
pub(super) fn zero(step: &PlannedStep, written: Option<&Step>) -> Time {
    let pour = step.start + step.handling;
    if starts_full(step, written) { pour + step.fill } else { pour }
}

/// Whether the step's own clock starts with the full tank.
pub(super) fn starts_full(step: &PlannedStep, written: Option<&Step>) -> bool {
    let once = step.bath.as_ref().is_some_and(|bath| bath.pours <= 1);
    once && written.is_some_and(|step| step.clock.value == Clock::FromFull)
}

/// The clock on the wall, if it is known.
#[derive(Clone, Copy)]
pub(super) struct Wall {
    start: Option<Time>,
}

impl Wall {
    /// The wall's clock for that evening.
    pub(super) fn of(schedule: &Schedule) -> Wall {
        let start = schedule.conditions.start;
        Wall { start: start.map(|seconds| Time::from_seconds(i64::from(seconds))) }
    }

    /// What it shows at a moment of the evening: `19:42:10`.
    pub(super) fn at(self, moment: Time) -> Option<String> {
        let now = self.start? + moment;
        let (day, of_day) = (now.ms.div_euclid(DAY.ms), now.ms.rem_euclid(DAY.ms));
        let (seconds, part) = (of_day / 1000, of_day % 1000);
        let mut shown = format!("{:02}:{:02}:{:02}", seconds / 3600, seconds / 60 % 60, seconds % 60);
        if part != 0 {
            shown.push('.');
            shown.push_str(format!("{part:03}").trim_end_matches('0'));
        }
        match day {
            0 => {}
            1 => shown.push_str(" next day"),
            days => shown.push_str(&format!(" {days} days on")),
        }
        Some(shown)
    }
}
