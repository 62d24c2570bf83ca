//! R11. Fixing by the clearing time.

use super::bottle;
use super::evening::Evening;
use super::temperature::Course;
use super::words;
use crate::model::{Clearing, Difference, Step, Temperature, Time};
use crate::source::{Diagnostic, Span};

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
    let clearing = evening.film.clearing_in(step.bath.as_ref()?)?;
    let (fresh, at, place, whence) = measured(evening, step, clearing);
    let coldest = course.map(|course| course.from.min(course.to));
    if let Some(coldest) = coldest.filter(|coldest| at.above(*coldest) > COLDER_MAX) {
        let say = |temperature| words::temperature(temperature, evening.conditions.scale);
        let message = format!(
            "the film's clearing time was measured at {}; {} is at {} tonight, more than 2 °C colder",
            say(at),
            step.title(),
            say(coldest)
        );
        faults.push(
            Diagnostic::error("bath-too-cold-to-clear", step.duration.span, message)
                .other(place, "measured here")
                .help(format!(
                    "warm the fixer to {} or more, or test a leader at tonight's temperature and write it down",
                    say(at.minus(COLDER_MAX))
                )),
        );
        return None;
    }
    let product = fresh.times(times);
    let text = format!("{times} x {} to clear{whence}", words::time(fresh));
    Some(match floor {
        Some(floor) if floor > product => {
            (floor, clearing, format!("{text} is {product}, and at least {floor} is said"))
        }
        Some(_) | None => (product, clearing, text),
    })
}

/// How long it takes to clear in the very bath that is poured from: by its newest test, on another film in
/// proportion; where there is none, as the film says. With the temperature it was measured at, the place, and
/// words for where it is from.
fn measured(evening: &Evening<'_>, step: &Step, clearing: &Clearing) -> (Time, Temperature, Span, String) {
    let as_said = (clearing.time, clearing.at, clearing.span, String::new());
    let Some(cleared) = bottle::of_step(evening, step).and_then(|bottle| bottle.cleared) else {
        return as_said;
    };
    let (test, own) = (cleared.test, std::sync::Arc::ptr_eq(&cleared.test.film, evening.film));
    let of = format!(" by the test of {} on {}", test.bath.name, test.date.value);
    match cleared.fresh {
        _ if own => (test.time.value, test.at, test.time.span, of),
        Some(fresh) if fresh.time > Time::ZERO => {
            let ms = i128::from(clearing.time.ms) * i128::from(test.time.value.ms);
            let whole = i128::from(fresh.time.ms);
            let ms = i64::try_from((ms * 2 + whole) / (whole * 2)).unwrap_or(i64::MAX);
            (Time::from_ms(ms), test.at, test.time.span, format!("{of}, in proportion"))
        }
        Some(_) | None => as_said,
    }
}
