//! How long a step takes tonight, and why: R1 to R3, R5 and R11, and R13 for a bath that has treated film.

use std::sync::Arc;

use super::evening::Evening;
use super::schedule::Because;
use super::temperature::Course;
use super::{time, words};
use crate::journal::APART_MAX;
use crate::model::{
    Bath, Chart, Clearing, Duration, Extend, Format, Stated, Step, StepKind, Temperature, Time, decimal,
};
use crate::source::{Diagnostic, Span};

#[derive(Debug, Clone)]
pub(super) struct Timed {
    pub(super) time: Time,
    pub(super) because: Because,
}

/// A piece of film that was cleared in tonight's fixer as a test.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Leader {
    /// The kind of the step that uses this fixer.
    pub kind: StepKind,
    /// The name of this step, if it has one.
    pub name: Option<String>,
    /// How long the piece took to clear.
    pub time: Time,
}

impl Timed {
    fn stated(time: Time, rule: &'static str, text: String, from: Vec<Span>) -> Timed {
        Timed { time, because: Because::new("/duration_ms", rule, text, from) }
    }

    fn rounded(seconds: f64, rule: &'static str, text: String, from: Vec<Span>) -> Timed {
        let mut timed = Timed::stated(time::to_second(seconds), rule, text, from);
        timed.because.exact = Some(seconds * 1000.0);
        timed
    }
}

impl Evening<'_> {
    /// The time of the step; `None`, with an error, if it cannot be calculated. For changes of water it is `None` too:
    /// [`super::clock::changes`] adds up their times.
    pub(super) fn timed(
        &self,
        step: &Step,
        course: Option<Course>,
        errors: &mut Vec<Diagnostic>,
    ) -> Option<Timed> {
        let timed = self.fresh(step, course, errors)?;
        if matches!(*step.duration, Duration::Sign(_)) {
            return Some(timed);
        }
        let extended =
            self.bottle(step).and_then(|one| extended(&timed, one.treated, one.bath.solution.extend?));
        Some(extended.unwrap_or(timed))
    }

    fn fresh(&self, step: &Step, course: Option<Course>, errors: &mut Vec<Diagnostic>) -> Option<Timed> {
        let span = step.duration.span;
        let (time, rule, text) = match &*step.duration {
            Duration::Chart(chart) => return self.by_chart(chart, course?),
            Duration::Clearing { .. } => return self.by_clearing(step, course, errors),
            Duration::Changes(_) | Duration::Open => return None,
            Duration::Plain { time, at } => match (at, course) {
                (Some(holds_at), Some(course)) if step.goes_by_rate() => {
                    return self.by_rate(step, *time, *holds_at, course);
                }
                _ => {
                    let holds =
                        at.map(|at| format!(", which holds at {}", self.degrees(at))).unwrap_or_default();
                    (*time, "R3", format!("{} as written{holds}", words::time(*time)))
                }
            },
            Duration::EachSide(time) => {
                (time.times(2), "R6", format!("{} for each side", words::time(*time)))
            }
            Duration::Sign(sign) => (sign.at_most, "R18", format!("at most {}", words::time(sign.at_most))),
            Duration::Flow { flow, time } => {
                (*time, "R14", format!("{} of running water, {flow}", words::time(*time)))
            }
        };
        Some(Timed::stated(time, rule, text, vec![span]))
    }

    fn by_chart(&self, chart: &Chart, course: Course) -> Option<Timed> {
        let seconds = time::drifting(chart, course.from, course.to)?;
        let (low, high) = (course.from.min(course.to), course.from.max(course.to));
        let points = chart.points();
        let below = points.iter().rev().map(|point| point.temperature).find(|at| *at <= low);
        let above = points.iter().map(|point| point.temperature).find(|at| *at >= high);
        let used = points.iter().filter(|point| {
            below.is_none_or(|below| below <= point.temperature)
                && above.is_none_or(|above| point.temperature <= above)
        });
        let (words, from): (Vec<String>, Vec<Span>) = used
            .map(|point| (format!("{} at {}", point.time, self.degrees(point.temperature)), point.span))
            .unzip();
        let words = words.join(", ");
        let (rule, text) = match (course.from == course.to, from.len()) {
            (true, 1) => ("R1", format!("a point of the chart: {words}")),
            (true, _) => ("R1", format!("between {words}, the logarithm of the time is linear")),
            (false, _) => ("R5", format!("{} along {words}", self.drift(course))),
        };
        Some(Timed::rounded(seconds, rule, text, from))
    }

    fn by_rate(&self, step: &Step, time: Time, holds_at: Temperature, course: Course) -> Option<Timed> {
        let rate = step.solution()?.rate?;
        let seconds = time::drifting_at_rate(time, holds_at, *rate, (course.from, course.to));
        let text = format!(
            "{time} at {}, by {} for each {}",
            self.degrees(holds_at),
            decimal(rate.factor.in_base(1000)?, 1000, 3),
            rate.interval.to_string().replace('C', "°C")
        );
        let (rule, text) = match course.from == course.to {
            true => ("R2", text),
            false => ("R5", format!("{}: {text}", self.drift(course))),
        };
        Some(Timed::rounded(seconds, rule, text, vec![step.duration.span, rate.span]))
    }

    fn drift(&self, course: Course) -> String {
        format!("from {} to {}", self.degrees(course.from), self.degrees(course.to))
    }

    /// The time of a step that lasts a multiple of the clearing time (rule R11); `None`, with an error, if no clearing
    /// time can be used.
    fn by_clearing(
        &self,
        step: &Step,
        course: Option<Course>,
        errors: &mut Vec<Diagnostic>,
    ) -> Option<Timed> {
        let span = step.duration.span;
        let Duration::Clearing { times, at_least: floor, at_most } = *step.duration else { return None };
        let timed = |clearing: &MeasuredClearing, from: Vec<Span>| {
            let product = clearing.time.by(times);
            let text = format!("{times} x {} to clear{}", words::time(clearing.time), clearing.source);
            let (time, text) = match floor.filter(|floor| *floor > product) {
                Some(floor) => {
                    (floor, format!("{text} is {product}, but the recipe states at least {floor}"))
                }
                None => (product, text),
            };
            let (time, text) = match at_most.filter(|most| *most < time) {
                Some(most) => (most, format!("{text} is {time}, but the recipe states at most {most}")),
                None => (time, text),
            };
            Timed::stated(time, "R11", text, from)
        };
        if let Some(time) = self.leader_in(step) {
            let source = " by tonight's leader".to_owned();
            let leader = MeasuredClearing { time, at: self.tonight.temperature, span, source };
            return Some(timed(&leader, vec![span]));
        }
        let Some(stated) = self.film.clearing_in(step.bath.as_ref()?) else {
            errors.push(self.no_clearing(step));
            return None;
        };
        let clearing = match self.clearing(step, stated) {
            Ok(clearing) => clearing,
            Err(error) => {
                errors.push(*error);
                return None;
            }
        };
        let coldest = course.map(|course| course.from.min(course.to));
        if let Some(coldest) = coldest.filter(|coldest| clearing.at.above(*coldest) > APART_MAX) {
            let message = format!(
                "the clearing time was measured at {}, but {} is at {} tonight, more than 2 °C colder",
                self.degrees(clearing.at),
                step.title(),
                self.degrees(coldest)
            );
            let help = format!(
                "warm the fixer to {} or more; or time a leader in it tonight and give that time: --clears 1:20",
                self.degrees(clearing.at.minus(APART_MAX))
            );
            let error = Diagnostic::error("bath-too-cold-to-clear", span, message);
            errors.push(error.other(clearing.span, "measured here").help(help));
            return None;
        }
        Some(timed(&clearing, vec![span, stated.span]))
    }

    fn no_clearing(&self, step: &Step) -> Diagnostic {
        let bath = step.bath.iter().find_map(|bath| {
            let solution = bath.solution.as_ref()?;
            Some(format!("{} {}", solution.name, bath.dilution))
        });
        let bath = bath.unwrap_or_default();
        let (material, name) = (self.film.material.word(), &self.film.name);
        let message = format!("'{name}' has no clearing time in {bath}");
        Diagnostic::error("no-clearing-time", step.duration.span, message)
            .other(self.film.span, format!("the {material}"))
            .help("time a leader in it tonight: --clears 1:20")
            .help(format!("or add your time to the {material}: clears 60 s in {bath} at 20 C"))
    }

    /// The fixing step in whose bath tonight's leader clears: the first step timed by clearing, else the first fixing
    /// step.
    fn fixing(&self) -> Option<&Step> {
        let fixes = |step: &&Step| matches!(step.kind, StepKind::Fix | StepKind::BleachFix);
        let by_clearing = |step: &&Step| matches!(*step.duration, Duration::Clearing { .. });
        let steps = &self.recipe.steps;
        steps.iter().find(by_clearing).or_else(|| steps.iter().find(fixes))
    }

    /// The clearing time of `--clears`, if it was measured in the solution and dilution of this step.
    pub(super) fn leader_in(&self, step: &Step) -> Option<Time> {
        let time = self.tonight.clears?;
        let (tested, own) = (self.fixing()?.bath.as_ref()?, step.bath.as_ref()?);
        let solution = |bath: &Bath| bath.solution.as_ref().map(|solution| solution.span);
        (solution(tested) == solution(own) && tested.dilution == own.dilution).then_some(time)
    }

    pub(super) fn leader(&self) -> Option<Leader> {
        let (time, step) = (self.tonight.clears?, self.fixing()?);
        Some(Leader { kind: step.kind, name: step.name.clone(), time })
    }

    /// The clearing time of tonight's film, from the newest clearing test of the bottle. If another film was tested,
    /// the tested time is multiplied by the ratio of the two films' times in fresh fixer. Without a test, the time that
    /// the film states.
    ///
    /// # Errors
    /// The times in fresh fixer are for temperatures too far apart to be compared.
    pub(super) fn clearing(
        &self,
        step: &Step,
        stated: &Clearing,
    ) -> Result<MeasuredClearing, Box<Diagnostic>> {
        let as_stated =
            MeasuredClearing { time: stated.time, at: stated.at, span: stated.span, source: String::new() };
        let Some(cleared) = self.bottle(step).and_then(|bottle| bottle.cleared) else { return Ok(as_stated) };
        let test = cleared.test;
        let source = format!(" by the test of {} on {}", test.bath.name, *test.date);
        let Stated { value: time, span } = test.time;
        let tested = MeasuredClearing { time, at: test.at, span, source };
        Ok(match cleared.fresh {
            _ if Arc::ptr_eq(&test.film, self.film) => tested,
            Some(fresh) if fresh.at.apart(stated.at) > APART_MAX => {
                let message = format!(
                    "the test of {} is with {}, whose fresh time is for {}; the fresh time of {} is for {}",
                    test.bath.name,
                    test.film.name,
                    self.degrees(fresh.at),
                    self.film.name,
                    self.degrees(stated.at)
                );
                return Err(Box::new(
                    Diagnostic::error("bath-too-cold-to-clear", step.duration.span, message)
                        .other(fresh.span, "the fresh time of what was tested")
                        .other(stated.span, format!("the fresh time of this {}", self.film.material.word()))
                        .help("time a piece of it in the bath tonight: --clears 1:20"),
                ));
            }
            Some(fresh) if fresh.time > Time::ZERO => {
                let time = stated.time.scaled(time.ms, fresh.time.ms);
                MeasuredClearing { time, source: format!("{}, in proportion", tested.source), ..tested }
            }
            _ => as_stated,
        })
    }
}

/// The time, first extended for the film that the bottle has treated, then rounded (rule R13). `treated` is an area;
/// [`Format::ROLL`] is one roll. `None` if the bottle has treated too little film to extend the time.
fn extended(timed: &Timed, treated: i64, extend: Stated<Extend>) -> Option<Timed> {
    let whole = treated / Format::ROLL / i64::from(extend.per_rolls.max(1));
    let share = i64::from(extend.by.basis_points) * whole;
    #[expect(clippy::cast_precision_loss, reason = "both are below 2^53")]
    let (ms, factor) = (timed.time.ms as f64, 1.0 + share as f64 / 10_000.0);
    let exact = timed.because.exact.unwrap_or(ms) * factor;
    let by = decimal(share, 100, 2);
    let text = format!("{}; {by} % longer for what the bottle has treated", timed.because.text);
    let from = timed.because.from.iter().copied().chain([extend.span]).collect();
    (whole > 0).then(|| Timed::rounded(exact / 1000.0, "R13", text, from))
}

pub(super) struct MeasuredClearing {
    pub(super) time: Time,
    /// The temperature of the fixer for which the time holds.
    pub(super) at: Temperature,
    pub(super) span: Span,
    /// The clearing test that gave the time, in words; empty if the film states the time.
    pub(super) source: String,
}
