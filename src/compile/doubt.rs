//! R22. How sure the time of a development is tonight, and the one line on the card about it.
//!
//! The total is the root of the sum of the squared parts (Guide to the expression of uncertainty in measurement, JCGM
//! 100:2008; from memory). A limit of plus or minus `a` counts as `a` divided by the root of 3. An error of the
//! temperature or the strength counts as the change of the time that would compensate for it.

use super::evening::Evening;
use super::schedule::{Because, Notices, PlannedStep};
use super::time::{at_chart, at_rate};
use super::trial::Rests;
use super::words;
use crate::model::{Band, Difference, Duration, Solution, Step, StepKind, Temperature, Thermometer, Time};
use crate::source::Sorted as _;

/// The uncertainty of a development time.
#[derive(Debug, Clone, PartialEq)]
pub struct Doubt {
    /// Twice the standard uncertainty, as a fraction of the time: 0.1 is 10 %.
    pub share: f64,
    /// By how much the contrast may be off because of the time; `None` if no trial shows how the contrast depends on
    /// the time.
    pub contrast: Option<f64>,
    /// The causes, the greatest first.
    pub parts: Vec<Cause>,
}

/// A cause of the uncertainty of a time.
#[derive(Debug, Clone, PartialEq)]
pub struct Cause {
    /// What may be wrong: `thermometer`, `drift`, `agitation`, `pour`, `dilution`, or `trial`.
    pub what: &'static str,
    /// How large the error may be, in words: `0.5 °C`.
    pub limit: String,
    /// Whether `limit` is assumed, because it is not stated.
    pub is_assumed: bool,
    /// The standard uncertainty of the time from this cause, as a fraction of the time.
    pub share: f64,
}

/// The error of a thermometer that is not declared: 0.5 °C. No source looked up: a glass thermometer is off by 0.2 to
/// 0.5 °C, a kitchen probe by 0.5 to 1 °C.
const THERMOMETER: f64 = 0.5;
/// How far the bath drifts up or down if `--ending` is not given: 0.25 °C (common practice, no source).
const DRIFT: f64 = 0.25;
/// The error of the times of pouring and draining: 5 s (common practice, no source).
const POUR: f64 = 5.0;
/// The standard uncertainty of the time because a person never agitates twice in the same way, as a fraction of the
/// time (no source looked up).
const AGITATION: f64 = 0.02;
/// The error of a measured volume, as a fraction: 1 % (common practice, no source).
const MEASURING: f64 = 0.01;
/// The time is proportional to 1 ÷ strength^1.2, with the strength of the developer. The exponent is 1.0 for a
/// developer with glycin, and up to 1.3 for others.
const STRENGTH: f64 = 1.2;
/// The card reports a [`Doubt::share`] of at least this value. A smaller error of the time cannot be seen in a print.
const SEEN: f64 = 0.10;
/// The least [`Doubt::share`] that the card reports for a colour developer, which works on three layers at once.
const SEEN_IN_COLOUR: f64 = 0.03;
/// The factor by which development speeds up per 10 °C, for a colour developer that states none (common practice, no
/// source).
const USUAL: f64 = 2.5;

const AGITATING: &str = "agitation";
const COLOUR_AGENT: &str = "colour-developing-agent";
const HALF_A_DEGREE: Difference = Difference { base: 4500 };

impl Evening<'_> {
    /// How uncertain the time of a development is; `None` for other steps, and if it is not known how the time depends
    /// on the temperature.
    pub(super) fn doubt(&self, step: &Step, planned: &PlannedStep) -> Option<Doubt> {
        let seconds = planned.duration.seconds();
        if step.kind != StepKind::Develop || matches!(*step.duration, Duration::Sign(_)) || seconds <= 0.0 {
            return None;
        }
        let at = planned.temperature?;
        let per_degree = slope(step, at).or_else(|| is_colour(step).then(|| libm::log(USUAL) / 10.0))?;
        let mut parts = vec![self.thermometer(step, per_degree)];
        let root = libm::sqrt(3.0);
        if self.tonight.ending.is_none() {
            let limit = words::celsius(DRIFT);
            parts.push(Cause { what: "drift", limit, is_assumed: true, share: per_degree * DRIFT / root });
        }
        parts.push(Cause { what: AGITATING, limit: "2 %".to_owned(), is_assumed: true, share: AGITATION });
        parts.push(Cause {
            what: "pour",
            limit: "5 s".to_owned(),
            is_assumed: true,
            share: POUR / root / seconds,
        });
        parts.extend(dilution(step));
        parts.extend(planned.rests.as_ref().and_then(|rests| trial(rests, seconds)));
        parts.order_by(|one, other| other.share.total_cmp(&one.share));
        let squares: f64 = parts.iter().map(|part| part.share * part.share).sum();
        let share = 2.0 * libm::sqrt(squares);
        let per_minute = planned.rests.as_ref().and_then(|rests| rests.per_minute);
        let contrast = per_minute.map(|per_minute| per_minute * share * seconds / 60.0);
        Some(Doubt { share, contrast, parts })
    }

    /// The uncertainty from the thermometer. If the time comes from a trial with the same thermometer, the
    /// thermometer's error cancels, and only the error of reading it remains: 0.1 °C. `per_degree` is the relative
    /// change of the time per °C.
    fn thermometer(&self, step: &Step, per_degree: f64) -> Cause {
        let own = self.own_thermometer();
        let tested = step.rests_on.as_ref().and_then(|rests| rests.trial.thermometer.as_ref());
        let is_same =
            own.zip(tested).is_some_and(|(own, tested)| own.text.is_some() && own.text == tested.text);
        let (limit, is_assumed) = match own {
            _ if is_same => (0.1, false),
            Some(own) => (own.within.celsius(), false),
            None => (THERMOMETER, true),
        };
        Cause {
            what: "thermometer",
            limit: words::celsius(limit),
            is_assumed,
            share: per_degree * limit / libm::sqrt(3.0),
        }
    }

    /// The declared thermometer; of several, the least exact.
    fn own_thermometer(&self) -> Option<&Thermometer> {
        self.shelf.thermometers.iter().max_by_key(|one| one.within)
    }

    /// Adds a line to the card if the time is so uncertain that a print shows it (rule R22).
    pub(super) fn advise_of_doubt(&self, steps: &[PlannedStep], notices: &mut Notices) {
        let pairs = self.recipe.steps.iter().zip(steps);
        let doubts = pairs.filter_map(|(step, planned)| Some((step, planned, planned.doubt.as_ref()?)));
        let told = doubts
            .filter(|(step, _, doubt)| doubt.share >= if is_colour(step) { SEEN_IN_COLOUR } else { SEEN });
        for (step, planned, doubt) in told {
            // No advice if uneven agitation is the main cause: nobody can state how evenly they agitate, so a user
            // could never get rid of the advice.
            let Some(cause) = doubt.parts.first().filter(|cause| cause.what != AGITATING) else { continue };
            let seconds = planned.duration.seconds();
            let off = Time::from_minutes(2.0 * cause.share * seconds / 60.0);
            let title = step.title().to_uppercase();
            let at = planned.temperature.map(|at| self.degrees(at));
            notices.advise("R22", line(cause, &title, off, at));
        }
    }
}

fn line(cause: &Cause, title: &str, off: Time, at: Option<String>) -> String {
    let assumed = if cause.is_assumed { ", assumed" } else { "" };
    let (limit, off) = (&cause.limit, words::time(off));
    match cause.what {
        "thermometer" => {
            let at = at.map(|at| format!(" of {at}")).unwrap_or_default();
            format!(
                "thermometer: it may be off by {limit}{assumed}, which is {off} of {title}; compare it with a second one, \
                 or stand the tank in water{at}"
            )
        }
        "drift" => {
            format!("drift: {limit}{assumed} is {off} of {title}; stand the tank in water, or give --ending")
        }
        "trial" => format!("the trial leaves {off} open in {title}; test one more piece at this time"),
        "pour" => format!("pouring: {limit}{assumed} is {off} of {title}; dilute more for a longer time"),
        _ => format!(
            "dilution: {limit} of a volume{assumed} is {off} of {title}; measure in a narrow cylinder"
        ),
    }
}

/// The uncertainty from measuring solution and water, each to 1 %; `None` without water.
fn dilution(step: &Step) -> Option<Cause> {
    let dilution = &step.bath.as_ref()?.dilution;
    let parts: f64 = dilution.parts.iter().map(|part| f64::from(*part)).sum();
    let water = f64::from(dilution.water);
    (water > 0.0).then(|| {
        let strength = water / (parts + water) * libm::sqrt(2.0) * MEASURING / libm::sqrt(3.0);
        Cause { what: "dilution", limit: "1 %".to_owned(), is_assumed: true, share: STRENGTH * strength }
    })
}

/// The uncertainty of the trial that the time comes from, if it is known.
fn trial(rests: &Rests, seconds: f64) -> Option<Cause> {
    let half = rests.give_or_take?;
    Some(Cause {
        what: "trial",
        limit: words::time(half),
        is_assumed: false,
        share: half.seconds() / 2.0 / seconds,
    })
}

/// By how much the natural logarithm of the time falls per °C, by the step's chart near `at`, or by the solution's
/// coefficient. `None` without either.
fn slope(step: &Step, at: Temperature) -> Option<f64> {
    match &*step.duration {
        Duration::Chart(chart) => {
            let points = chart.points();
            let (cold, warm) =
                points.iter().zip(points.iter().skip(1)).find(|(_, warm)| at <= warm.temperature)?;
            let (long, short) = (at_chart(chart, cold.temperature)?, at_chart(chart, warm.temperature)?);
            let width = warm.temperature.above(cold.temperature).celsius();
            (width > 0.0).then(|| libm::log(long / short) / width)
        }
        Duration::Plain { time, at: Some(holds_at) } => {
            let rate = step.solution()?.rate?;
            let warmer = Temperature::celsius_whole(1).above(Temperature::celsius_whole(0));
            let later = at_rate(*time, *holds_at, *rate, holds_at.plus(warmer));
            Some(libm::log(time.seconds() / later))
        }
        _ => None,
    }
}

/// Whether the step is a colour development: the developer contains a colour developing agent, or the step is hot and
/// allows less than half a degree.
fn is_colour(step: &Step) -> bool {
    let has_agent = |solution: &Solution| solution.ingredients().iter().any(|own| own.name == COLOUR_AGENT);
    let is_tight = matches!(step.band.as_deref(), Some(Band::Within(within)) if *within < HALF_A_DEGREE);
    step.solutions().any(|solution| has_agent(solution)) || is_tight && step.is_hot()
}

impl Doubt {
    /// How the uncertainty was calculated, for `--why`.
    pub(super) fn because(&self, step: &Step, duration: Time) -> Because {
        let squares: f64 = self.parts.iter().map(|part| part.share * part.share).sum();
        let part = |part: &Cause| {
            let assumed = if part.is_assumed { ", assumed" } else { "" };
            let limit = &part.limit;
            format!("{} {:.0} % ({limit}{assumed})", part.what, 100.0 * part.share * part.share / squares)
        };
        let parts: Vec<String> = self.parts.iter().map(part).collect();
        let off = Time::from_minutes(self.share * duration.seconds() / 60.0);
        let contrast =
            self.contrast.map(|contrast| format!(", and {contrast:.3} of contrast")).unwrap_or_default();
        let text = format!(
            "give or take {} ({:.1} %, 95 %){contrast}: {}",
            words::time(off),
            100.0 * self.share,
            parts.join(", ")
        );
        Because::new("/duration_ms", "R22", text, vec![step.duration.span])
    }
}
