//! How long a step takes tonight, and why: R1 to R3, R5, R11, and R13 for a bottle that has treated film.

use std::sync::Arc;

use super::evening::Evening;
use super::schedule::Because;
use super::temperature::Course;
use super::{bottle, time, words};
use crate::model::{
    Chart, Clearing, Difference, Duration, Extend, Quickening, Stated, Step, Temperature, Time, decimal,
};
use crate::source::{Diagnostic, Span};

/// The errors of this file.
pub(super) const FAULTS: &[(&str, &str)] =
    &[("bath-too-cold-to-clear", "a fixer more than 2 °C colder than where its clearing time was measured")];

/// A bath may be at most 2 °C colder than the clearing test.
const COLDER_MAX: Difference = Difference { base: 2 * 9000 };

/// A step's time, rounded (R15), and its calculation.
#[derive(Debug, Clone)]
pub(super) struct Timed {
    pub(super) time: Time,
    pub(super) because: Because,
}

impl Timed {
    fn stated(time: Time, rule: &'static str, text: String, from: Vec<Span>) -> Timed {
        Timed { time, because: Because::new("/duration_ms", rule, text, from) }
    }

    fn rounded(seconds: f64, rule: &'static str, text: String, from: Vec<Span>) -> Timed {
        let because =
            Because { exact: Some(seconds * 1000.0), ..Because::new("/duration_ms", rule, text, from) };
        Timed { time: time::to_second(seconds), because }
    }
}

/// The step's time; `None` with an error if it has none tonight, and for changes of water, whose times are summed
/// when they are laid out.
pub(super) fn timed(
    evening: &Evening<'_>,
    step: &Step,
    course: Option<Course>,
    errors: &mut Vec<Diagnostic>,
) -> Option<Timed> {
    let timed = fresh(evening, step, course, errors)?;
    let extended = bottle::of_step(evening, step)
        .and_then(|bottle| Some(extended(&timed, bottle.treated, bottle.bath.solution.extend?)));
    Some(extended.flatten().unwrap_or(timed))
}

/// R13. The time lengthened for the film the bottle has treated, in twelfths of a roll; `None` before the first
/// step of that growth. It is still rounded only once.
fn extended(timed: &Timed, treated: i64, extend: Stated<Extend>) -> Option<Timed> {
    let whole = treated / (12 * i64::from(extend.value.per_rolls.max(1)));
    let share = i64::from(extend.value.by.basis_points) * whole;
    #[expect(clippy::cast_precision_loss, reason = "both are far below what a real number holds exactly")]
    let (ms, factor) = (timed.time.ms as f64, 1.0 + share as f64 / 10_000.0);
    let exact = timed.because.exact.unwrap_or(ms) * factor;
    let by = decimal(share, 100, 2);
    let text = format!("{}; {by} % longer for the film that the bottle has treated", timed.because.text);
    let from = timed.because.from.iter().copied().chain([extend.span]).collect();
    (whole > 0).then(|| Timed::rounded(exact / 1000.0, "R13", text, from))
}

/// The time in a fresh bath.
fn fresh(
    evening: &Evening<'_>,
    step: &Step,
    course: Option<Course>,
    errors: &mut Vec<Diagnostic>,
) -> Option<Timed> {
    let span = step.duration.span;
    match &step.duration.value {
        Duration::Chart(chart) => by_chart(evening, chart, course?, span),
        Duration::Plain { time, at } => Some(match (at, rate(step), course) {
            (Some(holds_at), Some(rate), Some(course)) => {
                by_rate(evening, Stated::new(*time, span), *holds_at, rate, course)
            }
            _ => {
                let holds =
                    at.map(|at| format!(", which holds at {}", evening.degrees(at))).unwrap_or_default();
                Timed::stated(*time, "R3", format!("{} as written{holds}", words::time(*time)), vec![span])
            }
        }),
        Duration::Clearing { .. } => by_clearing(evening, step, course, errors),
        Duration::EachSide(time) => {
            let text = format!("{} for each side", words::time(*time));
            Some(Timed::stated(time.times(2), "R6", text, vec![span]))
        }
        Duration::Changes(_) => None,
        Duration::Flow { flow, time } => {
            let text = format!("{} of running water, {flow}", words::time(*time));
            Some(Timed::stated(*time, "R14", text, vec![span]))
        }
    }
}

fn rate(step: &Step) -> Option<Stated<Quickening>> {
    step.solution().filter(|_| step.goes_by_rate())?.rate
}

fn by_chart(evening: &Evening<'_>, chart: &Chart, course: Course, span: Span) -> Option<Timed> {
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
    let point_words =
        used.clone().map(|point| format!("{} at {}", point.time, evening.degrees(point.temperature)));
    let point_words = point_words.collect::<Vec<_>>().join(", ");
    let mut from: Vec<Span> = used.map(|point| point.span).collect();
    if from.is_empty() {
        from.push(span);
    }
    let (rule, text) = match (course.from == course.to, from.len()) {
        (true, 1) => ("R1", format!("the chart's own point: {point_words}")),
        (true, _) => ("R1", format!("between {point_words}, the logarithm of the time runs straight")),
        (false, _) => ("R5", format!("{} along {point_words}", drift(evening, course))),
    };
    Some(Timed::rounded(seconds, rule, text, from))
}

fn by_rate(
    evening: &Evening<'_>,
    time: Stated<Time>,
    holds_at: Temperature,
    rate: Stated<Quickening>,
    course: Course,
) -> Timed {
    let seconds = time::drifting_at_rate(time.value, holds_at, rate.value, (course.from, course.to));
    let factor = rate.value.factor.in_base(1000).expect("a factor is held to its range");
    let text = format!(
        "{} at {}, by {} for each {}",
        time.value,
        evening.degrees(holds_at),
        decimal(factor, 1000, 3),
        words::difference(rate.value.interval)
    );
    let (rule, text) = match course.from == course.to {
        true => ("R2", text),
        false => ("R5", format!("{}: {text}", drift(evening, course))),
    };
    Timed::rounded(seconds, rule, text, vec![time.span, rate.span])
}

fn drift(evening: &Evening<'_>, course: Course) -> String {
    format!("from {} to {}", evening.degrees(course.from), evening.degrees(course.to))
}

/// R11. Fixing by the clearing time.
fn by_clearing(
    evening: &Evening<'_>,
    step: &Step,
    course: Option<Course>,
    errors: &mut Vec<Diagnostic>,
) -> Option<Timed> {
    let span = step.duration.span;
    let Duration::Clearing { times, at_least: floor } = step.duration.value else { return None };
    let stated = evening.film.clearing_in(step.bath.as_ref()?)?;
    let clearing = clearing(evening, step, stated);
    let coldest = course.map(|course| course.from.min(course.to));
    if let Some(coldest) = coldest.filter(|coldest| clearing.at.above(*coldest) > COLDER_MAX) {
        let message = format!(
            "the film's clearing time was measured at {}; {} is at {} tonight, more than 2 °C colder",
            evening.degrees(clearing.at),
            step.title(),
            evening.degrees(coldest)
        );
        errors.push(
            Diagnostic::error("bath-too-cold-to-clear", span, message).other(clearing.span, "measured here").help(
                format!(
                    "warm the fixer to {} or more, or test a leader at tonight's temperature and write it down",
                    evening.degrees(clearing.at.minus(COLDER_MAX))
                ),
            ),
        );
        return None;
    }
    let product = clearing.time.times(times);
    let text = format!("{times} x {} to clear{}", words::time(clearing.time), clearing.source);
    let (time, text) = match floor.filter(|floor| *floor > product) {
        Some(floor) => (floor, format!("{text} is {product}, and at least {floor} is said")),
        None => (product, text),
    };
    Some(Timed::stated(time, "R11", text, vec![span, stated.span]))
}

/// A clearing time in the bath that is poured from.
struct MeasuredClearing {
    time: Time,
    /// The temperature it was measured at.
    at: Temperature,
    span: Span,
    /// Where it is from, in words.
    source: String,
}

/// The clearing time by the bottle's newest test, in proportion for another film; without a test, as the film says.
fn clearing(evening: &Evening<'_>, step: &Step, stated: &Clearing) -> MeasuredClearing {
    let as_stated =
        MeasuredClearing { time: stated.time, at: stated.at, span: stated.span, source: String::new() };
    let Some(cleared) = bottle::of_step(evening, step).and_then(|bottle| bottle.cleared) else {
        return as_stated;
    };
    let test = cleared.test;
    let source = format!(" by the test of {} on {}", test.bath.name, test.date.value);
    let tested = MeasuredClearing { time: test.time.value, at: test.at, span: test.time.span, source };
    match cleared.fresh {
        _ if Arc::ptr_eq(&test.film, evening.film) => tested,
        Some(fresh) if fresh.time > Time::ZERO => {
            let ms = i128::from(stated.time.ms) * i128::from(tested.time.ms);
            let whole = i128::from(fresh.time.ms);
            let ms = i64::try_from((ms * 2 + whole) / (whole * 2)).unwrap_or(i64::MAX);
            let source = format!("{}, in proportion", tested.source);
            MeasuredClearing { time: Time::from_ms(ms), source, ..tested }
        }
        _ => as_stated,
    }
}
