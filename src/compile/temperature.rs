//! R3 and R4. The temperature of each step tonight, and whether it is allowed.

use super::evening::{Evening, Tonight};
use crate::model::{Band, Duration, Stated, Step, StepKind, Temperature};
use crate::source::{Diagnostic, Span};

/// The errors of this file.
pub(super) const FAULTS: &[(&str, &str)] = &[
    ("outside-chart", "a temperature that the chart does not reach"),
    ("outside-band", "a temperature that the step may not have"),
];

/// The band of a step that states none: 15 to 30 °C (common practice, no source).
const USUAL: Band = Band::Between(Temperature::celsius_whole(15), Temperature::celsius_whole(30));
const NO_BAND: &str = "states no temperatures of its own; 15 to 30 °C is taken";

/// A bath's temperatures at its beginning and end; both the same where no drift is expected.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Course {
    pub(super) from: Temperature,
    pub(super) to: Temperature,
    /// Where the step states the temperature itself.
    pub(super) own: Option<Span>,
    /// Whether it begins at the evening's temperature because it has none of its own.
    is_shared: bool,
}

/// The step's course tonight; `None` for a step without a bath or a temperature.
pub(super) fn course(evening: &Evening<'_>, step: &Step) -> Option<Course> {
    let of = |wanted: &Option<String>| {
        let named = &evening.conditions.step_temperatures;
        named.iter().find(|named| named.kind == step.kind && named.name == *wanted)
    };
    let named = of(&step.name).or_else(|| of(&None));
    let own = named.map(|named| named.temperature).or(step.at.map(|at| at.value));
    let own_span = step.at.filter(|_| named.is_none()).map(|at| at.span);
    if own.is_none() && !step.is_in_liquid() {
        return None;
    }
    let tonight = evening.conditions.temperature;
    let from = own.unwrap_or(tonight);
    let drifts = from == tonight && step.kind != StepKind::Dry;
    let to = evening.conditions.ending.filter(|_| drifts).unwrap_or(from);
    Some(Course { from, to, own: own_span, is_shared: own.is_none() })
}

/// The coldest and the warmest temperature that a step may have.
#[derive(Debug, Clone, Copy)]
struct Limits {
    low: Temperature,
    high: Temperature,
    span: Span,
    /// Whether they are the ends of its chart, and not its band.
    are_chart: bool,
}

impl Limits {
    /// The limit nearest to a temperature outside; `None` for one inside.
    fn nearest(self, at: Temperature) -> Option<Temperature> {
        if at < self.low { Some(self.low) } else { (self.high < at).then_some(self.high) }
    }
}

/// A temperature of tonight that is outside a step's limits.
struct Miss<'a> {
    step: &'a Step,
    at: Temperature,
    limits: Limits,
    nearest: Temperature,
    /// Whether it is the evening's temperature, or the evening's ending, and not the step's own.
    is_shared: bool,
}

impl Miss<'_> {
    fn is_too_warm(&self) -> bool {
        self.nearest < self.at
    }

    /// The direction in which the bath must not drift.
    fn way(&self) -> &'static str {
        if self.is_too_warm() { "rising" } else { "falling" }
    }

    fn has_no_band(&self) -> bool {
        self.step.band.is_none() && !self.limits.are_chart
    }
}

/// Whether a course is within the step's band and its chart; [`check`] reports where it is not.
pub(super) fn is_allowed(step: &Step, course: Course) -> bool {
    misses(step, course).is_empty()
}

/// Reports each temperature that steps may not have: once, however many steps have it.
pub(super) fn check(evening: &Evening<'_>, errors: &mut Vec<Diagnostic>) {
    let missed = |step| course(evening, step).map(|course| misses(step, course)).unwrap_or_default();
    let mut groups: Vec<Vec<Miss<'_>>> = Vec::new();
    for miss in evening.recipe.steps.iter().flat_map(missed) {
        let same = |other: &Miss<'_>| {
            other.is_shared && (other.at, other.is_too_warm()) == (miss.at, miss.is_too_warm())
        };
        match groups.iter_mut().find(|group| miss.is_shared && group.iter().all(same)) {
            Some(group) => group.push(miss),
            None => groups.push(vec![miss]),
        }
    }
    errors.extend(groups.iter().filter_map(|group| match group.as_slice() {
        [] => None,
        [one] if one.limits.are_chart => Some(off_chart(evening, one)),
        [one] => Some(outside(evening, one)),
        [first, ..] => Some(outside_all(evening, first, group)),
    }));
}

fn misses(step: &Step, course: Course) -> Vec<Miss<'_>> {
    // A step that states its own temperature and no band may have exactly that temperature.
    let has_band = step.band.is_some() || course.own.is_none();
    let band = band(step, course);
    let chart = if let Duration::Chart(chart) = &step.duration.value { chart.ends() } else { None };
    let chart = chart.map(|(low, high)| Limits { low, high, span: step.duration.span, are_chart: true });
    let mut all: Vec<Miss<'_>> = Vec::new();
    for at in [course.from, course.to] {
        let of = |limits: Limits| limits.nearest(at).map(|nearest| (limits, nearest));
        let away = |nearest: Temperature| (nearest.base - at.base).abs();
        // What is outside both is reported once, by the narrower: only its nearest temperature works.
        let (limits, nearest) = match (Some(band).filter(|_| has_band).and_then(of), chart.and_then(of)) {
            (None, None) => continue,
            (Some(by_band), Some(by_chart)) if away(by_band.1) <= away(by_chart.1) => by_chart,
            (Some(by_band), _) => by_band,
            (None, Some(by_chart)) => by_chart,
        };
        let is_shared = course.is_shared || at != course.from;
        let miss = Miss { step, at, limits, nearest, is_shared };
        // A bath that begins too warm and ends too warm is reported once.
        if all.iter().all(|earlier| earlier.is_too_warm() != miss.is_too_warm()) {
            all.push(miss);
        }
    }
    all
}

/// The limits by the step's band, or the usual one.
fn band(step: &Step, course: Course) -> Limits {
    let stated = step.band.unwrap_or(Stated::new(USUAL, step.span));
    let (low, high) = match stated.value {
        Band::Between(low, high) => (low, high),
        Band::Within(by) => {
            let holds_at = if let Duration::Plain { at, .. } = step.duration.value { at } else { None };
            let middle = holds_at.or(step.at.map(|at| at.value)).unwrap_or(course.from);
            (middle.minus(by), middle.plus(by))
        }
    };
    Limits { low, high, span: stated.span, are_chart: false }
}

fn outside(evening: &Evening<'_>, miss: &Miss<'_>) -> Diagnostic {
    let is_ending = is_ending(evening, miss.at);
    let message = format!(
        "{} {} {} tonight, and may be {} to {}",
        miss.step.title(),
        if is_ending { "ends at" } else { "is at" },
        evening.degrees(miss.at),
        evening.degrees(miss.limits.low),
        evening.degrees(miss.limits.high)
    );
    let nearest = evening.degrees(miss.nearest);
    let mut error = Diagnostic::error("outside-band", miss.limits.span, message).help(if is_ending {
        format!("keep it from {} past {nearest}, as in a water bath", miss.way())
    } else {
        format!(
            "the nearest that works is {nearest}: bring the bath there and compile for it, with --at {}{}",
            option(evening, evening.conditions.temperature),
            step_option(evening, miss),
        )
    });
    if miss.has_no_band() {
        error.label = NO_BAND.to_owned();
    }
    error
}

fn off_chart(evening: &Evening<'_>, miss: &Miss<'_>) -> Diagnostic {
    let at = evening.degrees(miss.at);
    let message = format!(
        "the chart of {} goes from {} to {}, not to {at}",
        miss.step.title(),
        evening.degrees(miss.limits.low),
        evening.degrees(miss.limits.high),
    );
    let (nearest, test) = (evening.degrees(miss.nearest), test_it(&at));
    Diagnostic::error("outside-chart", miss.limits.span, message).help(if is_ending(evening, miss.at) {
        format!("keep it from {} past {nearest}, as in a water bath; {test}", miss.way())
    } else {
        format!("the nearest that works is {nearest}: bring the bath there; {test}")
    })
}

/// One temperature that several steps may not have.
fn outside_all(evening: &Evening<'_>, first: &Miss<'_>, all: &[Miss<'_>]) -> Diagnostic {
    let titles = |misses: &mut dyn Iterator<Item = &Miss<'_>>| -> String {
        let titles: Vec<String> = misses.map(|miss| miss.step.title()).collect();
        match titles.as_slice() {
            [most @ .., last] if !most.is_empty() => format!("{} and {last}", most.join(", ")),
            one => one.concat(),
        }
    };
    let is_ending = is_ending(evening, first.at);
    let message = format!(
        "the baths {} {}, too {} for {}",
        if is_ending { "end at" } else { "are at" },
        evening.degrees(first.at),
        if first.is_too_warm() { "warm" } else { "cold" },
        titles(&mut all.iter()),
    );
    let name = if all.iter().all(|miss| miss.limits.are_chart) { "outside-chart" } else { "outside-band" };
    let mut error = Diagnostic::error(name, first.limits.span, message);
    let mut labelled: Vec<Span> = Vec::new();
    for miss in all {
        let span = miss.limits.span;
        if labelled.contains(&span) {
            continue;
        }
        labelled.push(span);
        let label = if miss.has_no_band() {
            NO_BAND.to_owned()
        } else {
            format!(
                "{} {} {} to {}",
                titles(&mut all.iter().filter(|other| other.limits.span == span)),
                if miss.limits.are_chart { "has times for" } else { "may be" },
                evening.degrees(miss.limits.low),
                evening.degrees(miss.limits.high)
            )
        };
        if labelled.len() == 1 { error.label = label } else { error = error.other(span, label) }
    }
    let nearest = all.iter().map(|miss| miss.nearest);
    let nearest = if first.is_too_warm() { nearest.min() } else { nearest.max() }.unwrap_or(first.at);
    let error = error.help(if is_ending {
        format!("keep them from {} past {}, as in a water bath", first.way(), evening.degrees(nearest))
    } else if all_are_allowed(evening, nearest) {
        format!(
            "the nearest that works is {}: bring the baths there and compile for it, with --at {}",
            evening.degrees(nearest),
            option(evening, nearest)
        )
    } else {
        let steps: String = all.iter().map(|miss| step_option(evening, miss)).collect();
        format!(
            "no one temperature does for all of them: bring each bath to its own, with --at {}{steps}",
            option(evening, evening.conditions.temperature)
        )
    });
    let on_chart = all.iter().any(|miss| miss.limits.are_chart);
    if on_chart { error.help(test_it(&evening.degrees(first.at))) } else { error }
}

/// What else can be done where a chart ends.
fn test_it(at: &str) -> String {
    format!("or test the film at {at} and write the point down")
}

/// Whether every step may have its temperature if the evening is at that one.
fn all_are_allowed(evening: &Evening<'_>, at: Temperature) -> bool {
    let conditions = Tonight { temperature: at, ending: None, ..evening.conditions.clone() };
    let there = Evening { conditions: &conditions, ..*evening };
    let mut steps = evening.recipe.steps.iter();
    steps.all(|step| course(&there, step).is_none_or(|course| is_allowed(step, course)))
}

fn is_ending(evening: &Evening<'_>, at: Temperature) -> bool {
    evening.conditions.ending == Some(at) && at != evening.conditions.temperature
}

/// The nearest temperature that a step may have, as `--at` takes it after the evening's: `,wash=30C`.
fn step_option(evening: &Evening<'_>, miss: &Miss<'_>) -> String {
    format!(",{}={}", miss.step.title().replace(' ', "-"), option(evening, miss.nearest))
}

/// A temperature as `--at` takes it.
fn option(evening: &Evening<'_>, temperature: Temperature) -> String {
    evening.degrees(temperature).replace(" °", "")
}
