//! How long a step takes tonight, and why.

use super::evening::Evening;
use super::schedule::Because;
use super::temperature::Course;
use super::{bottle, fixing, round, time, words};
use crate::model::{Chart, Duration, Quickening, Step, Temperature, Time};
use crate::source::{Diagnostic, Span};

/// A step's time, rounded (R15), and the reckoning.
#[derive(Debug, Clone)]
pub(super) struct Reckoned {
    pub(super) time: Time,
    pub(super) because: Because,
}

/// The step's own time; `None` if it cannot be had tonight, which is told. The changes of a wash
/// have no time of their own: theirs is added up when they are laid out.
pub(super) fn reckon(
    evening: &Evening<'_>,
    step: &Step,
    course: Option<Course>,
    faults: &mut Vec<Diagnostic>,
) -> Option<Reckoned> {
    fresh(evening, step, course, faults).map(|reckoned| extended(evening, step, reckoned))
}

/// Draws the time out by what the bottle has treated before tonight (R13); it is rounded once all the same.
fn extended(evening: &Evening<'_>, step: &Step, reckoned: Reckoned) -> Reckoned {
    let bottle = bottle::of_step(evening, step);
    let Some((bottle, extend)) =
        bottle.and_then(|bottle| Some((bottle.treated, bottle.bath.solution.extend?)))
    else {
        return reckoned;
    };
    let whole = bottle / (12 * i64::from(extend.value.per_rolls.max(1)));
    if whole == 0 {
        return reckoned;
    }
    let share = i64::from(extend.value.by.basis_points) * whole;
    #[expect(clippy::cast_precision_loss, reason = "both are far below what a real number holds exactly")]
    let (ms, factor) = (reckoned.time.ms as f64, 1.0 + share as f64 / 10_000.0);
    let exact = reckoned.because.exact.unwrap_or(ms) * factor;
    let by = crate::model::decimal(share, 100, 2);
    let text = format!("{}; drawn out by {by} % for what the bottle has treated", reckoned.because.text);
    let mut from = reckoned.because.from;
    from.push(extend.span);
    rounded(exact / 1000.0, "R13", text, from)
}

fn fresh(
    evening: &Evening<'_>,
    step: &Step,
    course: Option<Course>,
    faults: &mut Vec<Diagnostic>,
) -> Option<Reckoned> {
    let span = step.duration.span;
    match &step.duration.value {
        Duration::Chart(chart) => by_chart(evening, chart, course?, span),
        Duration::Plain { time, at } => Some(match (at, rate(step), course) {
            (Some(holds_at), Some((rate, said)), Some(course)) => {
                by_rate(evening, *time, *holds_at, (rate, said), (course, span))
            }
            _ => plain(*time, at.map(|at| words::temperature(at, evening.conditions.scale)), span),
        }),
        Duration::Clearing { times, at_least } => {
            let (time, clearing, text) = fixing::time(evening, step, (*times, *at_least), course, faults)?;
            Some(Reckoned { time, because: because("R11", text, None, vec![span, clearing.span]) })
        }
        Duration::EachSide(time) => {
            let text = format!("{} for each side", words::time(*time));
            Some(Reckoned { time: time.times(2), because: because("R6", text, None, vec![span]) })
        }
        Duration::Changes(_) => None,
        Duration::Flow { flow, time } => {
            let text = format!("{} of running water, {flow}", words::time(*time));
            Some(Reckoned { time: *time, because: because("R14", text, None, vec![span]) })
        }
    }
}

fn because(rule: &'static str, text: String, exact: Option<f64>, from: Vec<Span>) -> Because {
    Because { of: "/duration_ms".to_owned(), rule, text, exact, from }
}

fn rate(step: &Step) -> Option<(Quickening, Span)> {
    let rate = step.solution().filter(|_| step.goes_by_rate())?.rate?;
    Some((rate.value, rate.span))
}

fn plain(time: Time, at: Option<String>, span: Span) -> Reckoned {
    let text = match at {
        Some(at) => format!("{} as written, which holds at {at}", words::time(time)),
        None => format!("{} as written", words::time(time)),
    };
    Reckoned { time, because: because("R3", text, None, vec![span]) }
}

fn by_chart(evening: &Evening<'_>, chart: &Chart, course: Course, span: Span) -> Option<Reckoned> {
    let say = |temperature| words::temperature(temperature, evening.conditions.scale);
    let seconds = time::drifting(chart, course.from, course.to)?;
    let low = course.from.min(course.to);
    let high = course.from.max(course.to);
    let points = chart.points();
    let below = points.iter().rev().find(|point| point.temperature <= low);
    let above = points.iter().find(|point| point.temperature >= high);
    let used = points.iter().filter(|point| {
        below.is_none_or(|below| below.temperature <= point.temperature)
            && above.is_none_or(|above| point.temperature <= above.temperature)
    });
    let told: Vec<String> =
        used.clone().map(|point| format!("{} at {}", point.time, say(point.temperature))).collect();
    let mut from: Vec<Span> = used.map(|point| point.span).collect();
    if from.is_empty() {
        from.push(span);
    }
    let told = told.join(", ");
    let (rule, text) = match (course.from == course.to, from.len()) {
        (true, 1) => ("R1", format!("the chart's own point: {told}")),
        (true, _) => ("R1", format!("between {told}, the logarithm of the time runs straight")),
        (false, _) => ("R5", format!("from {} to {} along {told}", say(course.from), say(course.to))),
    };
    Some(rounded(seconds, rule, text, from))
}

fn by_rate(
    evening: &Evening<'_>,
    time: Time,
    holds_at: Temperature,
    (rate, said): (Quickening, Span),
    (course, span): (Course, Span),
) -> Reckoned {
    let say = |temperature| words::temperature(temperature, evening.conditions.scale);
    let seconds = time::drifting_at_rate(time, holds_at, rate, (course.from, course.to));
    let factor =
        crate::model::decimal(rate.factor.in_base(1000).expect("a factor is held to its range"), 1000, 3);
    let each =
        format!("{time} at {}, by {factor} for each {}", say(holds_at), words::difference(rate.interval));
    let (rule, text) = match course.from == course.to {
        true => ("R2", each),
        false => ("R5", format!("from {} to {}: {each}", say(course.from), say(course.to))),
    };
    rounded(seconds, rule, text, vec![span, said])
}

fn rounded(seconds: f64, rule: &'static str, text: String, from: Vec<Span>) -> Reckoned {
    Reckoned { time: round::to_second(seconds), because: because(rule, text, Some(seconds * 1000.0), from) }
}
