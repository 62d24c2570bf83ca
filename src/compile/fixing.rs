//! R11. Fixing by the clearing time.

use super::evening::Evening;
use super::temperature::Course;
use super::words;
use crate::model::{Clearing, Difference, Step, Time};
use crate::source::Diagnostic;

/// The faults told here.
pub(super) const FAULTS: &[(&str, &str)] =
    &[("bath-too-cold-to-clear", "a fixer more than 2 °C colder than where its clearing time was measured")];

/// A bath may be colder than the clearing test by no more than this: 2 °C.
const COLDER_MAX: Difference = Difference { base: 2 * 9000 };

/// The time, the film's clearing row it came from, and the reckoning in words.
pub(super) fn time<'a>(
    evening: &Evening<'a>,
    step: &Step,
    (times, floor): (u32, Option<Time>),
    course: Option<Course>,
    faults: &mut Vec<Diagnostic>,
) -> Option<(Time, &'a Clearing, String)> {
    let bath = step.bath.as_ref()?;
    let solution = bath.solution.as_ref()?;
    let clearing = evening.film.clears.iter().find(|clearing| {
        std::sync::Arc::ptr_eq(&clearing.solution, solution) && clearing.dilution == bath.dilution
    })?;
    let coldest = course.map(|course| course.from.min(course.to));
    if let Some(coldest) = coldest.filter(|coldest| clearing.at.above(*coldest) > COLDER_MAX) {
        let say = |temperature| words::temperature(temperature, evening.conditions.scale);
        let message = format!(
            "the film's clearing time was measured at {}; {} is at {} tonight, more than 2 °C colder",
            say(clearing.at),
            step.title(),
            say(coldest)
        );
        faults.push(
            Diagnostic::error("bath-too-cold-to-clear", step.duration.span, message)
                .other(clearing.span, "measured here")
                .help(format!(
                    "warm the fixer to {} or more, or test a leader at tonight's temperature and write it down",
                    say(clearing.at.minus(COLDER_MAX))
                )),
        );
        return None;
    }
    let product = clearing.time.times(times);
    let text = format!("{times} x {} to clear", words::time(clearing.time));
    Some(match floor {
        Some(floor) if floor > product => {
            (floor, clearing, format!("{text} is {product}, and at least {floor} is said"))
        }
        Some(_) | None => (product, clearing, text),
    })
}
