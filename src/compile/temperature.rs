//! R3 and R4. The temperature of each step tonight, and whether the step allows it.

use super::evening::{Evening, Tonight};
use super::schedule::{Notices, PlannedStep, Warning};
use crate::model::{Band, Difference, Duration, Recipe, Stated, Step, StepKind, Temperature};
use crate::source::{Diagnostic, Span};

/// The allowed temperatures of a step that states none: 15 to 30 °C (common practice, no source).
const USUAL: Band = Band::Between(Temperature::celsius_whole(15), Temperature::celsius_whole(30));
const NO_BAND: &str = "states no temperatures, so 15 to 30 °C are allowed";

/// The greatest harmless jump of temperature between developer, stop and fixer: 5 °F.
const BATH_JUMP_MAX: Difference = Difference { base: 5 * 5000 };
/// The greatest harmless jump of temperature into a wash: 15 °F.
const WASH_JUMP_MAX: Difference = Difference { base: 15 * 5000 };

/// The temperatures of a bath when the step begins and ends; equal if no drift is expected.
#[derive(Debug, Clone, Copy)]
pub(super) struct Course {
    pub(super) from: Temperature,
    pub(super) to: Temperature,
    /// The span of the temperature that the step states, if any.
    pub(super) own: Option<Span>,
    /// Whether the bath begins at tonight's temperature because the step has no temperature of its own.
    is_shared: bool,
}

#[derive(Debug, Clone, Copy)]
struct Limits {
    low: Temperature,
    high: Temperature,
    span: Span,
    /// Whether the limits are the coldest and the warmest point of a chart, and not the stated or usual range.
    are_chart: bool,
}

struct Miss<'a> {
    step: &'a Step,
    at: Temperature,
    limits: Limits,
    /// The temperature nearest to `at` that the limits allow.
    nearest: Temperature,
    /// Whether `at` is the temperature of all baths (`--at` or `--ending`), and not one set for the step.
    is_shared: bool,
}

impl Miss<'_> {
    fn is_too_warm(&self) -> bool {
        self.nearest < self.at
    }

    /// Whether the chart alone does not allow the temperature.
    fn is_in_band(&self) -> bool {
        match *self.step.band.unwrap_or(Stated::new(USUAL, self.step.span)) {
            Band::Between(low, high) => (low..=high).contains(&self.at),
            Band::Within(_) => true,
        }
    }

    /// Whether the temperature is refused with an error. Most washes, stops and fixers only get a warning.
    fn is_refused(&self) -> bool {
        self.limits.are_chart || self.step.needs_its_temperature()
    }
}

/// Whether the step can be done at the temperatures with which its bath begins and ends. With `wants_allowed`, both
/// must also be in the allowed range. [`Evening::check_temperatures`] reports the errors.
pub(super) fn is_possible(step: &Step, course: Course, wants_allowed: bool) -> bool {
    !misses(step, course).iter().any(|miss| wants_allowed || miss.is_refused())
}

fn misses(step: &Step, course: Course) -> Vec<Miss<'_>> {
    // A step that states no range is not checked against the usual range if it is an exposure, or if it states one
    // temperature.
    let banded = step.band.is_some() || (course.own.is_none() && step.kind != StepKind::Expose);
    let band = banded.then(|| band(step, course));
    let chart = if let Duration::Chart(chart) = &*step.duration { chart.ends() } else { None };
    let chart = chart.map(|(low, high)| Limits { low, high, span: step.duration.span, are_chart: true });
    let mut all: Vec<Miss<'_>> = Vec::new();
    for at in [course.from, course.to] {
        let is_shared = course.is_shared || at != course.from;
        // If `at` is outside both the allowed range and the chart, only the one that is farther from `at` is reported.
        // The temperature `nearest` of that report is within both.
        let outside = [band, chart].into_iter().flatten().filter_map(|limits| {
            let nearest = at.max(limits.low).min(limits.high);
            (nearest != at).then_some(Miss { step, at, limits, nearest, is_shared })
        });
        let farthest = outside.max_by_key(|miss| (miss.nearest.base - at.base).abs());
        // A bath that is too warm at both the beginning and the end, or too cold at both, is reported once.
        all.extend(farthest.filter(|miss| all.iter().all(|other| other.is_too_warm() != miss.is_too_warm())));
    }
    all
}

pub(super) fn allowed(step: &Step, course: Course) -> Option<(Temperature, Temperature)> {
    let limits = band(step, course);
    step.band.map(|_| (limits.low, limits.high))
}

fn band(step: &Step, course: Course) -> Limits {
    let stated = step.band.unwrap_or(Stated::new(USUAL, step.span));
    let (low, high) = match *stated {
        Band::Between(low, high) => (low, high),
        Band::Within(by) => {
            let holds_at = if let Duration::Plain { at, .. } = *step.duration { at } else { None };
            let middle = holds_at.or(step.at.map(|at| *at)).unwrap_or(course.from);
            (middle.minus(by), middle.plus(by))
        }
    };
    Limits { low, high, span: stated.span, are_chart: false }
}

/// The lowest and the highest temperature that all baths without a stated temperature allow. If no temperature suits
/// all of them, only steps that cannot be done outside their limits count. `None` if no temperature suits these either.
pub fn wanted(recipe: &Recipe) -> Option<(Temperature, Temperature)> {
    let shared = || recipe.steps.iter().filter(|step| step.at.is_none() && step.is_in_liquid());
    let within = |steps: &mut dyn Iterator<Item = &Step>| {
        let mut all = Vec::new();
        for step in steps {
            let chart = if let Duration::Chart(chart) = &*step.duration { chart.ends() } else { None };
            let holds_at = if let Duration::Plain { at, .. } = *step.duration { at } else { None };
            all.extend(chart);
            all.extend(match step.band.map_or(USUAL, |band| *band) {
                Band::Between(low, high) => Some((low, high)),
                Band::Within(by) => holds_at.map(|at| (at.minus(by), at.plus(by))),
            });
        }
        let both = all.into_iter().reduce(|(low, high), (other, higher)| (low.max(other), high.min(higher)));
        both.filter(|(low, high)| low <= high)
    };
    within(&mut shared()).or_else(|| within(&mut shared().filter(|step| step.needs_its_temperature())))
}

impl Evening<'_> {
    /// The temperatures at which a step begins and ends tonight; `None` for a dry step without a temperature.
    pub(super) fn course(&self, step: &Step) -> Option<Course> {
        let of = |wanted: &Option<String>| {
            let named = &self.tonight.step_temperatures;
            named.iter().find(|named| named.kind == step.kind && named.name == *wanted)
        };
        let named = of(&step.name).or_else(|| of(&None));
        let own = named.map(|named| named.temperature).or(step.at.map(|at| *at));
        let own_span = step.at.filter(|_| named.is_none()).map(|at| at.span);
        if own.is_none() && !step.is_in_liquid() {
            return None;
        }
        let tonight = self.tonight.temperature;
        let from = own.unwrap_or(tonight);
        let drifts = from == tonight && step.kind != StepKind::Dry;
        let to = self.tonight.ending.filter(|_| drifts).unwrap_or(from);
        Some(Course { from, to, own: own_span, is_shared: own.is_none() })
    }

    /// Reports each disallowed temperature once, with all steps that disallow it. The report is an error if one of
    /// these steps cannot be done, else a warning.
    pub(super) fn check_temperatures(&self, errors: &mut Vec<Diagnostic>, warnings: &mut Vec<Warning>) {
        let missed = |step| {
            let course = self.course(step);
            let all = course.map(|course| misses(step, course)).unwrap_or_default();
            // The check of the recipe already warns of a disallowed temperature that the step states.
            let is_stated = course.is_some_and(|course| course.own.is_some());
            all.into_iter().filter(move |miss| miss.is_refused() || !is_stated)
        };
        let mut groups: Vec<Vec<Miss<'_>>> = Vec::new();
        for miss in self.recipe.steps.iter().flat_map(missed) {
            let same = |other: &Miss<'_>| {
                other.is_shared && (other.at, other.is_too_warm()) == (miss.at, miss.is_too_warm())
            };
            match groups.iter_mut().find(|group| miss.is_shared && group.iter().all(same)) {
                Some(group) => group.push(miss),
                None => groups.push(vec![miss]),
            }
        }
        for group in &groups {
            let Some(error) = self.outside(group) else { continue };
            if group.iter().any(Miss::is_refused) {
                errors.push(error);
            } else {
                let text = format!("{}{}", error.message, cold_wash(group));
                warnings.push(Warning { rule: "R4", text });
            }
        }
    }

    /// Warns if the temperature jumps from one bath to the next: by over 5 °F between developer, stop and fixer (US
    /// Navy, Illustrator Draftsman, NAVEDTRA 14262, page 7-11), or by over 15 °F into a wash (US Department of Defense,
    /// Nondestructive Inspection Methods, T.O. 33B-1-1, 6.7.10.1).
    pub(super) fn warn_of_jumps(&self, planned: &[PlannedStep], notices: &mut Notices) {
        let wet = || self.recipe.steps.iter().zip(planned).filter(|(step, _)| step.is_in_liquid());
        for ((before, from), (after, to)) in wet().zip(wet().skip(1)) {
            // If the baths drift, the smallest difference between their temperatures counts.
            let ends =
                |step: &PlannedStep| step.temperature.into_iter().chain(step.ending).collect::<Vec<_>>();
            let pairs =
                ends(from).into_iter().flat_map(|at| ends(to).into_iter().map(move |then| (at, then)));
            let Some((at, then)) = pairs.min_by_key(|(at, then)| at.apart(*then)) else { continue };
            let is_bath =
                |step: &Step| matches!(step.kind, StepKind::Develop | StepKind::Stop | StepKind::Fix);
            let (most, words) = match after.kind {
                StepKind::Wash => (WASH_JUMP_MAX, "15 °F (8.3 °C)"),
                _ if is_bath(before) && is_bath(after) => (BATH_JUMP_MAX, "5 °F (2.8 °C)"),
                _ => continue,
            };
            // The check of the recipe already warns of jumps between stated temperatures, and a step outside its limits
            // has another warning.
            let is_outside = self.course(after).is_some_and(|course| !misses(after, course).is_empty());
            if at.apart(then) > most && before.jump_to(after).is_none() && !is_outside {
                let (title, next) = (before.title(), after.title());
                let (at, then) = (self.degrees(at), self.degrees(then));
                let material = self.film.material.word();
                let text = format!(
                    "from {title} to {next} the {material} goes from {at} to {then}, more than {words} at once"
                );
                notices.warn("R4", format!("{text}: its gelatin may wrinkle"));
            }
        }
    }

    fn outside(&self, all: &[Miss<'_>]) -> Option<Diagnostic> {
        let first = all.first()?;
        let (at, tonight) = (self.degrees(first.at), self.tonight);
        let is_ending = tonight.ending == Some(first.at) && first.at != tonight.temperature;
        let (warm, drifting) =
            if first.is_too_warm() { ("warm", "rising above") } else { ("cold", "falling below") };
        let is = match (all.len(), is_ending) {
            (1, false) => "is at",
            (1, true) => "ends at",
            (_, false) => "are at",
            (_, true) => "end at",
        };
        let (subject, which, reason) = match all {
            [one] => (one.step.title(), "the bath", format!(": {}", self.range("it", one))),
            _ => ("the baths".to_owned(), "the baths", format!(" for {}", titles(all.iter()))),
        };
        let message = format!("{subject} {is} {at}, too {warm}{reason}");
        let name =
            if all.iter().all(|miss| miss.limits.are_chart) { "outside-chart" } else { "outside-band" };
        let mut error = Diagnostic::error(name, first.limits.span, message);
        let mut labelled: Vec<Span> = Vec::new();
        for miss in all {
            let span = miss.limits.span;
            let label = if miss.step.band.is_none() && !miss.limits.are_chart {
                NO_BAND.to_owned()
            } else if all.len() == 1 {
                String::new()
            } else {
                self.range(&titles(all.iter().filter(|other| other.limits.span == span)), miss)
            };
            error = match labelled.as_slice() {
                [] => error.label(label),
                known if known.contains(&span) => continue,
                _ => error.other(span, label),
            };
            labelled.push(span);
        }
        self.with_help(error, all, is_ending.then_some((which, drifting)))
    }

    /// The error with what to do about these baths. `drift` is `the baths` and `rising above` or `falling below`, if they
    /// leave their limits only at the end.
    fn with_help(
        &self,
        error: Diagnostic,
        all: &[Miss<'_>],
        drift: Option<(&str, &str)>,
    ) -> Option<Diagnostic> {
        let first = all.first()?;
        let nearest = all.iter().map(|miss| miss.nearest);
        let nearest = if first.is_too_warm() { nearest.min() } else { nearest.max() }?;
        let near = self.degrees(nearest);
        let own = |miss: &Miss<'_>| {
            format!(",{}={}", miss.step.title().replace(' ', "-"), self.option(miss.nearest))
        };
        let base = self.option(self.tonight.temperature);
        let each = format!("{base}{}", all.iter().map(own).collect::<String>());
        let error = error.help(if let Some((which, drifting)) = drift {
            let at = self.option(nearest);
            format!("keep {which} from {drifting} {near}, as in a water bath, and write: --ending {at}")
        } else if all.len() == 1 {
            format!("bring the bath to {near}, the nearest allowed temperature, and write: --at {each}")
        } else if self.all_are_allowed(nearest) {
            let at = self.option(nearest);
            format!("bring the baths to {near}, the nearest allowed temperature, and write: --at {at}")
        } else {
            format!("no temperature fits all of them; bring each bath to its own: --at {each}")
        });
        let (on_chart, others): (Vec<&Miss<'_>>, Vec<_>) = all.iter().partition(|miss| miss.limits.are_chart);
        let test = format!("or test the film at {} and add the point to the chart", self.degrees(first.at));
        if on_chart.is_empty()
            || !on_chart.iter().all(|miss| miss.is_in_band())
            || drift.is_some() && !others.is_empty()
        {
            return Some(error);
        }
        let options: String = others.iter().map(|miss| own(miss)).collect();
        Some(error.help(match others.len() {
            0 => test,
            _ => {
                format!("{test}, and keep {} within bounds: --at {base}{options}", titles(others.into_iter()))
            }
        }))
    }

    /// The allowed temperatures of a step in words, as in `it may be 18 °C to 24 °C`.
    fn range(&self, steps: &str, Miss { limits, .. }: &Miss<'_>) -> String {
        let (steps, may_be) = match (limits.are_chart, steps) {
            (true, "it") => ("its chart", "has times for"),
            (true, steps) => (steps, "has times for"),
            (false, steps) => (steps, "may be"),
        };
        format!("{steps} {may_be} {} to {}", self.degrees(limits.low), self.degrees(limits.high))
    }

    fn all_are_allowed(&self, at: Temperature) -> bool {
        let tonight = Tonight { temperature: at, ending: None, ..self.tonight.clone() };
        let there = Evening { tonight: &tonight, ..*self };
        let mut steps = self.recipe.steps.iter();
        steps.all(|step| there.course(step).is_none_or(|course| misses(step, course).is_empty()))
    }

    /// A temperature in the spelling of the option `--at`: `21.5C`.
    fn option(&self, temperature: Temperature) -> String {
        self.degrees(temperature).replace(" °", "")
    }
}

/// What the warning adds for a wash in cold water. US Department of Defense, Nondestructive Inspection Methods, T.O.
/// 33B-1-1, 6.7.10.1: at 50 to 60 °F washing takes three times as long as at 70 to 75 °F; below 50 °F washing is not
/// adequate.
fn cold_wash(misses: &[Miss<'_>]) -> &'static str {
    let washes = misses.iter().filter(|miss| miss.step.kind == StepKind::Wash && !miss.is_too_warm());
    match washes.map(|miss| miss.at).min() {
        Some(at) if at < Temperature::fahrenheit_whole(50) => "; water below 10 °C does not wash film clean",
        Some(at) if at <= Temperature::fahrenheit_whole(60) => "; wash three times as long",
        _ => "",
    }
}

/// The titles of the steps as a list: `presoak, develop and stop`.
fn titles<'a>(misses: impl Iterator<Item = &'a Miss<'a>>) -> String {
    let titles: Vec<String> = misses.map(|miss| miss.step.title()).collect();
    match titles.as_slice() {
        [most @ .., last] if !most.is_empty() => format!("{} and {last}", most.join(", ")),
        one => one.concat(),
    }
}
