//! R3 and R4. The temperature of each step tonight, and whether it may have it.

use super::evening::Evening;
use super::tonight::Tonight;
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
    /// Whether it begins at the evening's temperature for want of its own.
    is_shared: bool,
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
    Some(Course { from, to, own: own_span, is_shared: own.is_none() })
}

/// A temperature of tonight that a step may not have.
struct Miss<'a> {
    step: &'a Step,
    at: Temperature,
    /// The coldest and the warmest it may be, and where that is said.
    low: Temperature,
    high: Temperature,
    span: Span,
    /// Whether the chart says so, and not the band.
    by_chart: bool,
    /// Whether it is the evening's temperature, or what that ends at, and not the step's own.
    shared: bool,
}

impl Miss<'_> {
    fn is_too_warm(&self) -> bool {
        self.high < self.at
    }

    fn nearest(&self) -> Temperature {
        if self.is_too_warm() { self.high } else { self.low }
    }
}

/// Whether a course holds to the step's band, and to its chart. What does not is told for all steps at once.
pub(super) fn holds(step: &Step, course: Course) -> bool {
    misses(step, course).is_empty()
}

/// Tells of each temperature that steps may not have: once, however many steps it is of.
pub(super) fn held(evening: &Evening<'_>, faults: &mut Vec<Diagnostic>) {
    let missed = |step| course(evening, step).map(|course| misses(step, course)).unwrap_or_default();
    let mut groups: Vec<Vec<Miss<'_>>> = Vec::new();
    for miss in evening.recipe.steps.iter().flat_map(missed) {
        let same = |other: &Miss<'_>| {
            other.shared && (other.at, other.is_too_warm()) == (miss.at, miss.is_too_warm())
        };
        let group = groups.iter_mut().find(|group| miss.shared && group.iter().all(same));
        match group {
            Some(group) => group.push(miss),
            None => groups.push(vec![miss]),
        }
    }
    faults.extend(groups.iter().filter_map(|group| match group.as_slice() {
        [] => None,
        [one] if one.by_chart => Some(off_chart(evening, one)),
        [one] => Some(outside(evening, one)),
        [first, ..] => Some(outside_all(evening, first, group)),
    }));
}

fn misses(step: &Step, course: Course) -> Vec<Miss<'_>> {
    // A step that says its own temperature and no band may have just what it says.
    let own_word = step.band.is_none() && course.own.is_some();
    let (low, high, span) = band(step, course);
    let reach = match &step.duration.value {
        Duration::Chart(chart) => chart.ends(),
        Duration::Plain { .. }
        | Duration::Clearing { .. }
        | Duration::EachSide(_)
        | Duration::Changes(_)
        | Duration::Flow { .. } => None,
    };
    let mut all: Vec<Miss<'_>> = Vec::new();
    for at in ends(course) {
        let by_band = nearest(at, (low, high)).filter(|_| !own_word);
        let by_chart = reach.and_then(|reach| nearest(at, reach).map(|nearest| (nearest, reach)));
        let shared = course.is_shared || at != course.from;
        let of_band = Miss { step, at, low, high, span, by_chart: false, shared };
        // What is past both is told once, by the one that leaves less room: only its nearest works.
        let miss = match (by_band, by_chart) {
            (None, None) => continue,
            (Some(of_band_nearest), Some((of_chart, _))) if is_farther(at, of_band_nearest, of_chart) => {
                of_band
            }
            (_, Some((_, (low, high)))) => {
                Miss { low, high, span: step.duration.span, by_chart: true, ..of_band }
            }
            (Some(_), None) => of_band,
        };
        // A bath that begins too warm and ends so is too warm once.
        if all.iter().all(|earlier| earlier.is_too_warm() != miss.is_too_warm()) {
            all.push(miss);
        }
    }
    all
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

fn outside(evening: &Evening<'_>, miss: &Miss<'_>) -> Diagnostic {
    let say = |temperature| words::temperature(temperature, evening.conditions.scale);
    let Miss { step, at, low, high, span, .. } = *miss;
    let verb = if is_ending(evening, at) { "ends at" } else { "is at" };
    let message =
        format!("{} {verb} {} tonight, and may be {} to {}", step.title(), say(at), say(low), say(high));
    let mut fault = Diagnostic::error("outside-band", span, message).help(if is_ending(evening, at) {
        format!("keep it from {} past {}, as in a water bath", way(miss), say(miss.nearest()))
    } else {
        format!(
            "the nearest that works is {}: bring the bath there and compile for it, with --at {}{}",
            say(miss.nearest()),
            flag(evening, evening.conditions.temperature),
            step_flag(evening, miss),
        )
    });
    if step.band.is_none() {
        fault.label = NO_BAND.to_owned();
    }
    fault
}

const NO_BAND: &str = "says no temperatures of its own; 15 to 30 °C is taken";

/// One temperature that several steps may not have.
fn outside_all(evening: &Evening<'_>, first: &Miss<'_>, all: &[Miss<'_>]) -> Diagnostic {
    let say = |temperature| words::temperature(temperature, evening.conditions.scale);
    let titles = |of: &[&Miss<'_>]| -> String {
        let titles: Vec<String> = of.iter().map(|miss| miss.step.title()).collect();
        match titles.as_slice() {
            [most @ .., last] if !most.is_empty() => format!("{} and {last}", most.join(", ")),
            one => one.concat(),
        }
    };
    let is_ending = is_ending(evening, first.at);
    let message = format!(
        "{}{}, too {} for {}",
        if is_ending { "the baths end at " } else { "the baths are at " },
        say(first.at),
        if first.is_too_warm() { "warm" } else { "cold" },
        titles(&all.iter().collect::<Vec<_>>()),
    );
    let name = if all.iter().all(|miss| miss.by_chart) { "outside-chart" } else { "outside-band" };
    let mut fault = Diagnostic::error(name, first.span, message);
    let mut told: Vec<Span> = Vec::new();
    for miss in all {
        if told.contains(&miss.span) {
            continue;
        }
        told.push(miss.span);
        let of: Vec<&Miss<'_>> = all.iter().filter(|other| other.span == miss.span).collect();
        let may = if miss.by_chart { "has times for" } else { "may be" };
        let words = if miss.step.band.is_none() && !miss.by_chart {
            NO_BAND.to_owned()
        } else {
            format!("{} {may} {} to {}", titles(&of), say(miss.low), say(miss.high))
        };
        if told.len() == 1 { fault.label = words } else { fault = fault.other(miss.span, words) }
    }
    let nearest = all.iter().map(Miss::nearest);
    let nearest = if first.is_too_warm() { nearest.min() } else { nearest.max() }.unwrap_or(first.at);
    let fault = fault.help(if is_ending {
        format!("keep them from {} past {}, as in a water bath", way(first), say(nearest))
    } else if all_hold_at(evening, nearest) {
        format!(
            "the nearest that works is {}: bring the baths there and compile for it, with --at {}",
            say(nearest),
            flag(evening, nearest)
        )
    } else {
        let steps: String = all.iter().map(|miss| step_flag(evening, miss)).collect();
        format!(
            "no one temperature does for all of them: bring each bath to its own, with --at {}{steps}",
            flag(evening, evening.conditions.temperature)
        )
    });
    if all.iter().any(|miss| miss.by_chart) { fault.help(test_it(say(first.at))) } else { fault }
}

/// What else can be done where a chart ends.
fn test_it(at: String) -> String {
    format!("or test the film at {at} and write the point down")
}

/// Whether all steps may have that temperature tonight, if each that has none of its own is at it.
fn all_hold_at(evening: &Evening<'_>, at: Temperature) -> bool {
    let conditions = Tonight { temperature: at, ending: None, ..evening.conditions.clone() };
    let there = Evening { conditions: &conditions, ..*evening };
    evening.recipe.steps.iter().all(|step| course(&there, step).is_none_or(|course| holds(step, course)))
}

fn is_ending(evening: &Evening<'_>, at: Temperature) -> bool {
    evening.conditions.ending == Some(at) && at != evening.conditions.temperature
}

/// Which way a bath has to be kept from going.
fn way(miss: &Miss<'_>) -> &'static str {
    if miss.is_too_warm() { "rising" } else { "falling" }
}

fn off_chart(evening: &Evening<'_>, miss: &Miss<'_>) -> Diagnostic {
    let say = |temperature| words::temperature(temperature, evening.conditions.scale);
    let Miss { step, at, low, high, .. } = *miss;
    let message =
        format!("the chart of {} goes from {} to {}, not to {}", step.title(), say(low), say(high), say(at));
    let nearest = say(miss.nearest());
    Diagnostic::error("outside-chart", miss.span, message).help(if is_ending(evening, at) {
        format!("keep it from {} past {nearest}, as in a water bath; {}", way(miss), test_it(say(at)))
    } else {
        format!("the nearest that works is {nearest}: bring the bath there; {}", test_it(say(at)))
    })
}

/// A step at the nearest temperature that it may have, as the call writes it behind the evening's.
fn step_flag(evening: &Evening<'_>, miss: &Miss<'_>) -> String {
    format!(",{}={}", miss.step.title().replace(' ', "-"), flag(evening, miss.nearest()))
}

/// A temperature as the call writes it.
fn flag(evening: &Evening<'_>, temperature: Temperature) -> String {
    words::temperature(temperature, evening.conditions.scale).replace(" °", "")
}
