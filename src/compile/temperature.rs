//! R3 and R4. The temperature of each step tonight, and whether it may have it.

use super::evening::Evening;
use super::words;
use crate::model::{Band, Duration, Stated, Step, StepKind, Temperature};
use crate::source::{Diagnostic, Span};

/// The faults told here.
pub(super) const FAULTS: &[(&str, &str)] = &[
    ("outside-chart", "a temperature that the chart does not reach"),
    ("outside-band", "a temperature that the step may not have"),
];

/// A step that says nothing may be as warm as this: 15 to 30 °C (common practice, no source).
const USUAL: Band = Band::Between(Temperature::celsius_whole(15), Temperature::celsius_whole(30));

/// From where to where a bath goes tonight; both the same where no drift is expected.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Course {
    pub(super) from: Temperature,
    pub(super) to: Temperature,
    /// Whether the step says the temperature itself, or it was named for the step.
    pub(super) own: Option<Span>,
}

/// The step's course tonight; `None` for a step without a bath that says no temperature.
pub(super) fn course(evening: &Evening<'_>, step: &Step) -> Option<Course> {
    let of = |wanted: &Option<String>| {
        let named = &evening.conditions.step_temperatures;
        named.iter().find(|named| named.kind == step.kind && named.name == *wanted)
    };
    let named = of(&step.name).or_else(|| of(&None));
    let own = named.map(|named| named.temperature).or(step.at.map(|at| at.value));
    let own_span = step.at.filter(|_| named.is_none()).map(|at| at.span);
    if own.is_none() && !step.kind.is_wet() && step.bath.is_none() {
        return None;
    }
    let tonight = evening.conditions.temperature;
    let from = own.unwrap_or(tonight);
    let to =
        evening.conditions.ending.filter(|_| from == tonight && step.kind != StepKind::Dry).unwrap_or(from);
    Some(Course { from, to, own: own_span })
}

/// Holds a course to the step's band, and to its chart; `None` if it does not hold, which is told.
pub(super) fn held(
    evening: &Evening<'_>,
    step: &Step,
    course: Course,
    faults: &mut Vec<Diagnostic>,
) -> Option<()> {
    let mut sound = true;
    // A step that says its own temperature and no band may have just what it says.
    let own_word = step.band.is_none() && course.own.is_some();
    let (low, high, span) = band(step, course);
    let reach = match &step.duration.value {
        Duration::Chart(chart) => Some(chart.ends()?),
        Duration::Plain { .. }
        | Duration::Clearing { .. }
        | Duration::EachSide(_)
        | Duration::Changes(_)
        | Duration::Flow { .. } => None,
    };
    for at in ends(course) {
        let by_band = nearest(at, (low, high)).filter(|_| !own_word);
        let by_chart = reach.and_then(|reach| nearest(at, reach).map(|nearest| (nearest, reach)));
        // What is past both is told once, by the one that leaves less room: only its nearest works.
        let fault = match (by_band, by_chart) {
            (None, None) => continue,
            (Some(of_band), Some((of_chart, _))) if is_farther(at, of_band, of_chart) => {
                outside(evening, step, at, (low, high), span)
            }
            (_, Some((_, reach))) => off_chart(evening, step, at, reach),
            (Some(_), None) => outside(evening, step, at, (low, high), span),
        };
        faults.push(fault);
        sound = false;
    }
    sound.then_some(())
}

/// The end that is nearest to a temperature outside; `None` for one inside.
fn nearest(at: Temperature, (low, high): (Temperature, Temperature)) -> Option<Temperature> {
    if at < low { Some(low) } else { (high < at).then_some(high) }
}

/// Whether `one` is farther from `at` than `other`.
fn is_farther(at: Temperature, one: Temperature, other: Temperature) -> bool {
    let away = |end: Temperature| (end.base - at.base).abs();
    away(one) > away(other)
}

fn ends(course: Course) -> impl Iterator<Item = Temperature> {
    let end = (course.to != course.from).then_some(course.to);
    std::iter::once(course.from).chain(end)
}

/// The coldest and the warmest the step may be, and where that is said.
fn band(step: &Step, course: Course) -> (Temperature, Temperature, Span) {
    let stated = step.band.unwrap_or(Stated::new(USUAL, step.span));
    match stated.value {
        Band::Between(low, high) => (low, high, stated.span),
        Band::Within(by) => {
            let holds_at = match step.duration.value {
                Duration::Plain { at, .. } => at,
                Duration::Chart(_)
                | Duration::Clearing { .. }
                | Duration::EachSide(_)
                | Duration::Changes(_)
                | Duration::Flow { .. } => None,
            };
            let middle = holds_at.or(step.at.map(|at| at.value)).unwrap_or(course.from);
            (middle.minus(by), middle.plus(by), stated.span)
        }
    }
}

fn outside(
    evening: &Evening<'_>,
    step: &Step,
    at: Temperature,
    (low, high): (Temperature, Temperature),
    span: Span,
) -> Diagnostic {
    let say = |temperature| words::temperature(temperature, evening.conditions.scale);
    let nearest = if at < low { low } else { high };
    let ending = evening.conditions.ending == Some(at) && at != evening.conditions.temperature;
    let verb = if ending { "ends at" } else { "is at" };
    let message =
        format!("{} {verb} {} tonight, and may be {} to {}", step.title(), say(at), say(low), say(high));
    let mut fault = Diagnostic::error("outside-band", span, message).help(if ending {
        format!("keep it from falling past {}, as in a water bath", say(nearest))
    } else {
        format!(
            "the nearest that works is {}: bring the bath there and compile for it, with --at {},{}={}",
            say(nearest),
            flag(evening, evening.conditions.temperature),
            step.title().replace(' ', "-"),
            flag(evening, nearest),
        )
    });
    if step.band.is_none() {
        fault.label = "says no temperatures of its own; 15 to 30 °C is taken".to_owned();
    }
    fault
}

fn off_chart(
    evening: &Evening<'_>,
    step: &Step,
    at: Temperature,
    (low, high): (Temperature, Temperature),
) -> Diagnostic {
    let say = |temperature| words::temperature(temperature, evening.conditions.scale);
    let nearest = if at < low { low } else { high };
    let message =
        format!("the chart of {} goes from {} to {}, not to {}", step.title(), say(low), say(high), say(at));
    Diagnostic::error("outside-chart", step.duration.span, message).help(format!(
        "the nearest that works is {}: bring the bath there; or test the film at {} and write the point down",
        say(nearest),
        say(at)
    ))
}

/// A temperature as the call writes it.
fn flag(evening: &Evening<'_>, temperature: Temperature) -> String {
    words::temperature(temperature, evening.conditions.scale).replace(" °", "")
}
