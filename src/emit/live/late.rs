//! How late a bath was, and what that does. A delay is stated and recorded, never made up for.

use super::now::{left, passed};
use super::tank::{How, Tank, pour_of};
use crate::compile::Schedule;
use crate::emit::phrase;
use crate::model::{Role, StepKind, Time};

/// How long after a pour the line about the previous bath is shown.
const SAID: Time = Time::from_seconds(30);
/// The greatest differences of a development time from the plan, in percent: up to the first it counts as none, up to
/// the second as small. Common practice, no source.
const PARTS: (i64, i64) = (5, 15);
/// The limits for a colour developer, in percent, in place of `PARTS`.
const COLOUR_PARTS: (i64, i64) = (2, 5);
/// The effects of a longer development: if the difference is too small to count, if it is small, and if it is larger.
pub(in crate::emit) const LONGER: [&str; 3] =
    ["not visible", "a little denser", "print softer, write it on the sleeve"];
/// The effects of a shorter development: if the difference is too small to count, if it is small, and if it is larger.
pub(in crate::emit) const SHORTER: [&str; 3] =
    ["not visible", "a little thinner", "develop the next roll longer"];
/// How long a bath may be in before the screen warns about it. Common practice, no source.
pub(in crate::emit) const LONGEST: [(StepKind, Time); 3] = [
    (StepKind::Stop, Time::from_seconds(5 * 60)),
    (StepKind::Fix, Time::from_seconds(15 * 60)),
    (StepKind::BleachFix, Time::from_seconds(15 * 60)),
];

/// How long a step really took.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Took {
    /// The kind of the step, such as `develop`.
    pub kind: StepKind,
    /// The name of the step, if it has one.
    pub name: Option<String>,
    /// The time that the step took.
    pub time: Time,
    /// The planned time; `None` if a person ended the step at a sign.
    pub of: Option<Time>,
}

impl Took {
    /// The time as a recorded session states it: `develop 8:59 of 8:39`.
    pub fn words(&self) -> String {
        let of = self.of.map(|of| format!(" of {of}")).unwrap_or_default();
        format!("{} {}{of}", self.step(), self.time)
    }

    /// The time as an option on the command line states it: `develop=8:59`.
    pub fn option(&self) -> String {
        format!("{}={}", self.step().replace(' ', "-"), self.time)
    }

    fn step(&self) -> String {
        let name = self.name.as_ref().map(|name| format!(" {name}")).unwrap_or_default();
        format!("{}{name}", self.kind.word())
    }
}

impl Tank {
    /// The real times of the steps that were longer or shorter than planned, and of those that a person ended at a
    /// sign.
    pub(super) fn took(&self, clock: Time) -> Vec<Took> {
        let steps = 0..self.base.steps.len();
        steps.filter_map(|index| self.took_by(&self.base, index, clock)).collect()
    }

    /// The real time of a step. `None` if it is not known, or if it equals the time in `plan` and no person ended the
    /// step at a sign.
    fn took_by(&self, plan: &Schedule, index: usize, clock: Time) -> Option<Took> {
        let later = self.later(plan, index, clock)?;
        let step = plan.steps.get(index).filter(|step| step.bath.is_some())?;
        let is_ended = step.decision.is_some() || step.ended.is_some();
        (is_ended || later != Time::ZERO).then(|| Took {
            kind: step.kind,
            name: step.name.clone(),
            time: (step.duration + later).max(Time::ZERO),
            of: (!is_ended).then_some(step.duration),
        })
    }

    /// By how much longer a step took than in this plan, in whole seconds; negative if it was shorter. `None` if it is
    /// not known when its bath and the next one went in.
    fn later(&self, plan: &Schedule, index: usize, clock: Time) -> Option<Time> {
        let (own, next) = (self.pour(index, clock)?, self.pour(index + 1, clock)?);
        let planned = |index: usize| plan.steps.get(index).map(pour_of);
        let later = (next.at - own.at) - (planned(index + 1)? - planned(index)?);
        Some(Time::from_seconds((later.ms + 500).div_euclid(1000)))
    }

    /// The line about a bath that came out early. Without such a bath, the line about the previous bath, once the next
    /// bath is in: `develop 8:59 of 8:39, 3.9 % longer: not visible`. Without either, the line about a bath that has
    /// been in for too long.
    pub(super) fn said(&self, clock: Time) -> Option<String> {
        let early = self.said_of_early(clock);
        early.or_else(|| self.said_of_last(clock)).or_else(|| self.said_of_long(clock))
    }

    fn said_of_early(&self, clock: Time) -> Option<String> {
        if let Some(early) = self.left {
            let step = self.step(early.step)?;
            let wants = step.leaves() - self.resumes(early, clock);
            let line = || {
                format!("{} came out early: back in, it wants another {}", phrase::head(step), left(wants))
            };
            return (wants > Time::ZERO).then(line);
        }
        let (index, since) = self.back?;
        let step = self.step(index).filter(|_| clock - since < SAID)?;
        let wants = step.leaves() - self.at(clock);
        let line = || format!("{} is back in: it wants another {}", phrase::head(step), left(wants));
        (wants > Time::ZERO).then(line)
    }

    fn said_of_last(&self, clock: Time) -> Option<String> {
        let now = self.step_at(self.at(clock));
        let pour = self.pour(now, clock).filter(|pour| pour.how == How::Said && clock - pour.at < SAID)?;
        let index = now.checked_sub(1).filter(|_| pour.at <= clock)?;
        let took = self.took_by(&self.schedule, index, clock)?;
        let of = took.of.filter(|of| *of > Time::ZERO)?;
        let longest = LONGEST.iter().find(|(kind, longest)| *kind == took.kind && *longest < took.time);
        if let Some((_, longest)) = longest {
            return Some(format!("{}: over {longest}", took.words()));
        }
        if took.kind != StepKind::Develop {
            return None;
        }
        let later = took.time - of;
        let tenths = (later.ms.abs() * 1000 + of.ms / 2) / of.ms;
        let (effects, direction) = if later > Time::ZERO { (LONGER, "longer") } else { (SHORTER, "shorter") };
        let ((none, little), [same, slight, strong]) = (parts(&self.schedule), effects);
        let effect = match later.ms.abs() * 100 {
            parts if parts <= none * of.ms => same,
            parts if parts <= little * of.ms => slight,
            _ => strong,
        };
        Some(format!("{}, {}.{} % {direction}: {effect}", took.words(), tenths / 10, tenths % 10))
    }

    /// A line about the last confirmed bath, if it went in longer ago than `LONGEST` allows, although the recipe plans
    /// a shorter time. `None` after the end of the session.
    fn said_of_long(&self, clock: Time) -> Option<String> {
        let confirmed = |(_, pour): &(usize, super::tank::Pour)| pour.how != How::Due;
        let mut known = self.pours.iter().enumerate().filter_map(|(at, pour)| Some((at, (*pour)?)));
        let (index, pour) = known.rfind(confirmed)?;
        let step = self.step(index)?;
        let (_, longest) = LONGEST.iter().find(|(kind, _)| *kind == step.kind)?;
        let since = clock - pour.at;
        let is_over = *longest <= since && step.duration < *longest && self.at(clock) < self.end;
        let name = phrase::head(step);
        is_over.then(|| format!("{name} went in {} ago: drain it, if it is still in", passed(since)))
    }
}

/// The limits in percent for a schedule: `PARTS`, or `COLOUR_PARTS` for colour. A recipe counts as colour if it has a
/// bleach-fix, or a developer that is always at 30 °C or warmer.
pub(in crate::emit) fn parts(schedule: &Schedule) -> (i64, i64) {
    let is_colour = schedule.recipe.steps.iter().any(|step| {
        step.kind == StepKind::BleachFix
            || step.role() == Some(Role::BleachFix)
            || step.kind == StepKind::Develop && step.is_hot()
    });
    if is_colour { COLOUR_PARTS } else { PARTS }
}
