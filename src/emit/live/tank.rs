//! The state of a followed session: the schedule, and what a person has said until now.
//!
//! The time in the schedule runs with the clock. Each bath's time begins at its own pour: when a person says that a
//! bath went in, the time in the schedule becomes that of this pour, and all later times move with it. A later bath
//! never makes up for a delay.

use std::sync::Arc;

use super::INSTANT;
use crate::compile::{PlannedStep, Reading, Schedule};
use crate::emit::lid::{Lid, Soaked};
use crate::emit::moments::{Moment, moments};
use crate::model::{StepKind, Time};

/// The time from the press of the key that starts the session to the first pour.
pub(super) const COUNT_IN: Time = Time::from_seconds(5);

/// How it is known when a bath went in.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum How {
    /// The schedule says so, and no person has confirmed it.
    Due,
    /// A person started the session, and the bath is the first one.
    Started,
    /// A person said that the bath went in.
    Said,
}

/// The pour of a bath. All its times are clock times.
#[derive(Debug, Clone, Copy)]
pub(super) struct Pour {
    pub(super) at: Time,
    /// When the bath covers the film.
    pub(super) full: Time,
    pub(super) how: How,
    /// When the bath began to leave; `None` if it is still in.
    pub(super) out: Option<Time>,
}

/// A bath that a person took out too early. `clock` is the clock time of that, and `at` the time in the schedule.
#[derive(Debug, Clone, Copy)]
pub(super) struct Left {
    pub(super) step: usize,
    pub(super) clock: Time,
    pub(super) at: Time,
}

/// A temperature that a person read in a bath, at the time `when` in the schedule.
#[derive(Debug, Clone)]
pub(super) struct ReadIn {
    pub(super) step: usize,
    pub(super) when: Time,
    pub(super) reading: Reading,
    /// The duration of the step before and after the reading, or why the reading does not change the step.
    pub(super) result: Result<(Time, Time), Stays>,
}

/// Why a reading does not change a step: its effect is small, the step's time is fixed, or the temperature is outside
/// the chart.
#[derive(Debug, Clone, Copy)]
pub(super) enum Stays {
    Small,
    Fixed,
    Outside,
}

/// The state of a followed session.
#[derive(Debug, Clone)]
pub(super) struct Tank {
    /// The schedule as compiled, before any decision or reading.
    pub(super) base: Arc<Schedule>,
    /// The schedule with the decisions and readings so far. A step that still waits for its decision has its longest
    /// time.
    pub(super) schedule: Schedule,
    /// The replaced schedules, the oldest first. Each has the time in the schedule of the decision or reading that
    /// replaced it.
    before: Vec<(Time, Schedule)>,
    pub(super) moments: Vec<Moment>,
    pub(super) end: Time,
    pub(super) lid: Option<Lid>,
    /// The clock time at which the schedule began; `None` before the start.
    pub(super) origin: Option<Time>,
    /// The time in the schedule is never before `floor`. Before the start, the session waits at this time.
    pub(super) floor: Time,
    /// The time in the schedule up to which all pours are recorded in `pours`.
    pub(super) settled: Time,
    /// For each step, the pour of its bath; `None` if it is not known.
    pub(super) pours: Vec<Option<Pour>>,
    /// How long each pour that was dropped from `pours` had covered the film. Only the fixer counts, or another bath
    /// that the film needs before room light.
    pub(super) soaks: Vec<Time>,
    pub(super) left: Option<Left>,
    /// The step whose bath is back in after it was taken out too early, and the clock time at which it went in again.
    pub(super) back: Option<(usize, Time)>,
    /// The time in the schedule of an agitation that was put off.
    pub(super) missed: Option<Time>,
    pub(super) readings: Vec<ReadIn>,
}

/// When in the schedule the bath of a step goes in; if it has no bath, when the step begins.
pub(super) fn pour_of(step: &PlannedStep) -> Time {
    step.start + step.handling
}

impl Tank {
    pub(super) fn new(schedule: &Arc<Schedule>, from: Time) -> Tank {
        let mut tank = Tank {
            base: Arc::clone(schedule),
            schedule: (**schedule).clone(),
            before: Vec::new(),
            moments: Vec::new(),
            end: Time::ZERO,
            lid: None,
            origin: None,
            floor: from,
            settled: from - INSTANT,
            pours: vec![None; schedule.steps.len()],
            soaks: Vec::new(),
            left: None,
            back: None,
            missed: None,
            readings: Vec::new(),
        };
        tank.lay_out();
        tank
    }

    fn lay_out(&mut self) {
        self.moments = moments(&self.schedule);
        self.end = self.moments.last().map_or(Time::ZERO, |last| last.until);
        self.lid = Lid::of(&self.schedule);
    }

    /// Replaces the schedule because of a decision or a reading at the time `when` in it. `undecide` brings the old
    /// schedule back.
    pub(super) fn replace(&mut self, when: Time, schedule: Schedule) {
        self.before.push((when, std::mem::replace(&mut self.schedule, schedule)));
        self.lay_out();
    }

    /// Undoes the decisions and readings after the time `at` in the schedule.
    pub(super) fn undecide(&mut self, at: Time) {
        let mut before: Option<Schedule> = None;
        while self.before.last().is_some_and(|(when, _)| at < *when) {
            before = self.before.pop().map(|(_, schedule)| schedule);
        }
        self.readings.retain(|read| read.when <= at);
        if let Some(schedule) = before {
            self.schedule = schedule;
            self.lay_out();
        }
    }

    /// The time in the schedule when the clock of the whole evening shows `clock`.
    pub(super) fn at(&self, clock: Time) -> Time {
        match self.origin {
            None => self.floor,
            Some(origin) => (clock - origin).min(self.gate()).max(self.floor).min(self.end),
        }
    }

    /// The next time in the schedule at which the session waits for a person: at a lamp, or at the latest end of a step
    /// that ends at a sign. If there is none, the end of the session.
    fn gate(&self) -> Time {
        let lamps = self
            .schedule
            .steps
            .iter()
            .zip(&self.pours)
            .filter(|(step, pour)| is_lamp(step) && pour.is_none_or(|pour| pour.how == How::Due));
        let lamps = lamps.map(|(step, _)| pour_of(step));
        let signs = self
            .schedule
            .steps
            .iter()
            .filter(|step| step.decision.as_ref().is_some_and(|decision| decision.times.is_none()));
        let signs = signs.map(|step| step.leaves() - INSTANT);
        lamps.chain(signs).filter(|gate| self.floor <= *gate).min().unwrap_or(self.end)
    }

    /// The time left until the first pour, in the count-in after the start; `None` at any other time.
    pub(super) fn count_in(&self, clock: Time) -> Option<Time> {
        let left = self.floor - (clock - self.origin?);
        (left > Time::ZERO).then_some(left)
    }

    pub(super) fn step_at(&self, at: Time) -> usize {
        self.schedule.steps.partition_point(|step| step.start <= at).saturating_sub(1)
    }

    pub(super) fn step(&self, index: usize) -> Option<&PlannedStep> {
        self.schedule.steps.get(index)
    }

    /// The pour of the step with this index: the recorded one, or else the scheduled one if it was due after `settled`
    /// and by this clock time. `None` if there is neither.
    pub(super) fn pour(&self, index: usize, clock: Time) -> Option<Pour> {
        let known = self.pours.get(index).copied().flatten();
        known.or_else(|| {
            let (step, origin) = (self.step(index)?, self.origin?);
            let pour = pour_of(step);
            let has_passed = self.settled < pour && pour <= self.at(clock);
            has_passed.then(|| due(step, origin))
        })
    }

    /// Records the scheduled pours and drains up to this clock time.
    pub(super) fn settle(&mut self, clock: Time) {
        let at = self.at(clock);
        let Some(origin) = self.origin.filter(|_| self.count_in(clock).is_none()) else { return };
        for (index, step) in self.schedule.steps.iter().enumerate() {
            let Some(pour) = self.pours.get_mut(index) else { continue };
            if pour.is_none() && self.settled < pour_of(step) && pour_of(step) <= at {
                *pour = Some(due(step, origin));
            }
            if let Some(pour) = pour.as_mut().filter(|_| step.leaves() <= at) {
                pour.out.get_or_insert(origin + step.leaves());
            }
        }
        self.settled = self.settled.max(at);
    }

    pub(super) fn move_to(&mut self, at: Time, clock: Time) {
        self.origin = self.origin.map(|_| clock - at);
        (self.floor, self.settled) = (at, at - INSTANT);
        (self.missed, self.left, self.back) = (None, None, None);
    }

    /// The indices of the steps in the fixer, or in another bath that the film needs before room light.
    pub(super) fn fillings(&self) -> Vec<usize> {
        let of = |pour: Time| {
            self.schedule.steps.iter().position(|step| pour_of(step) == pour && step.bath.is_some())
        };
        let fillings = self.lid.iter().flat_map(|lid| &lid.fillings);
        fillings.filter_map(|filling| of(filling.pour)).collect()
    }

    /// How long the film has been in the fixer, or in another bath that it needs before room light. Only confirmed
    /// pours count.
    pub(super) fn soaked(&self, clock: Time) -> Soaked {
        let mut time = self.soaks.iter().fold(Time::ZERO, |sum, soak| sum + *soak);
        let mut is_confirmed = time > Time::ZERO;
        for index in self.fillings() {
            let Some(pour) = self.pours.get(index).copied().flatten().filter(|pour| pour.how != How::Due)
            else {
                continue;
            };
            let by_schedule = self.origin.zip(self.step(index)).map(|(origin, step)| origin + step.leaves());
            let is_out = self.step(index).is_some_and(|step| step.leaves() <= self.at(clock));
            let out = pour.out.or(by_schedule.filter(|_| is_out)).unwrap_or(clock).min(clock);
            time = time + (out - pour.full).max(Time::ZERO);
            is_confirmed = true;
        }
        Soaked { time, is_confirmed }
    }
}

pub(super) fn is_lamp(step: &PlannedStep) -> bool {
    step.kind == StepKind::Expose
}

/// The scheduled pour of a step. `origin` is the clock time at which the schedule began.
pub(super) fn due(step: &PlannedStep, origin: Time) -> Pour {
    Pour { at: origin + pour_of(step), full: origin + step.full(), how: How::Due, out: None }
}
