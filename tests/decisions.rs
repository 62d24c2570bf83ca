//! R18: a person ends a step at a sign. What the schedule says before, at and after the decision.

mod elsewhere;
mod evenings;
mod forms;
mod kinds;
mod prints;
mod written;

use wetside::compile::{Schedule, Tonight};
use wetside::model::{Format, Time};

use crate::kitchen::{celsius, evening};

/// A tank in which each tray is ready: nothing to fill, 10 s to lift and drip.
const TRAYS: &str = "
tank trays {
    reels     8x10in x 4, 250 ml each
    holds     1 l
    fill      0 s
    drain     10 s
}
";

/// One sheet at 20 C.
fn one_sheet() -> Tonight {
    evening(celsius("20"), &[(1, Format::SHEET_8X10)])
}

/// The earliest and the latest total.
fn totals(schedule: &Schedule) -> [String; 2] {
    [schedule.earliest(schedule.total), schedule.total].map(|total| total.to_string())
}

/// The earliest and the latest start of each step.
fn starts(schedule: &Schedule) -> Vec<[String; 2]> {
    let range = |at: Time| [schedule.earliest(at), at].map(|time| time.to_string());
    schedule.steps.iter().map(|step| range(step.start)).collect()
}

fn seconds(seconds: i64) -> Time {
    Time::from_seconds(seconds)
}
