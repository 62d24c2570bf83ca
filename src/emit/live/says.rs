//! What each thing that a person says changes in the state of the tank.

use super::said::Said;
use super::tank::{COUNT_IN, How, Left, Pour, ReadIn, Stays, Tank, due, pour_of};
use crate::compile::{PlannedStep, Reading, Reread};
use crate::emit::phrase;
use crate::model::{StepKind, Temperature, Time};

impl Tank {
    /// Applies what a person says. Returns `false` if it makes no sense now.
    pub(super) fn say(&mut self, said: Said, clock: Time) -> bool {
        self.settle(clock);
        match said {
            Said::Start => self.start(clock),
            Said::In(step) => self.pour_now(step, clock),
            Said::Behind(by) => self.behind(by, clock),
            Said::At(at) => self.go(at.clamp(Time::ZERO, self.end), clock),
            Said::BackIn => self.back_in(clock),
            Said::NotNow => self.not_now(clock),
            Said::Seen => self.decide(clock),
            Said::Read(temperature) => self.read(temperature, clock),
            Said::Hung => self.origin.is_some() && self.go(self.end, clock),
        }
    }

    fn start(&mut self, clock: Time) -> bool {
        if self.origin.is_some() {
            return false;
        }
        let from = clock + COUNT_IN;
        self.origin = Some(from - self.floor);
        let first = self.step_at(self.floor);
        let pour = self.step(first).filter(|step| pour_of(step) == self.floor);
        let pour = pour.map(|step| Pour { at: from, full: from + step.fill, how: How::Started, out: None });
        if let Some(known) = self.pours.get_mut(first) {
            *known = pour.or(*known);
        }
        true
    }

    fn pour_now(&mut self, index: usize, clock: Time) -> bool {
        let Some(pour) = self.step(index).map(pour_of).filter(|_| self.origin.is_some()) else {
            return false;
        };
        self.leave(index, clock);
        self.forget(index);
        self.undecide(pour);
        let full = clock + self.step(index).map_or(Time::ZERO, |step| step.fill);
        if let Some(known) = self.pours.get_mut(index) {
            *known = Some(Pour { at: clock, full, how: How::Said, out: None });
        }
        self.move_to(pour, clock);
        self.settled = pour;
        true
    }

    /// Records that the baths of all steps before the step with this index are out.
    fn leave(&mut self, index: usize, clock: Time) {
        for pour in self.pours.iter_mut().take(index).flatten() {
            pour.out.get_or_insert(clock);
        }
    }

    /// Forgets the pours from the step with this index on. The time that the film has already spent in the fixer, or in
    /// another bath that it needs before room light, still counts. It is forgotten too if this step comes before that
    /// bath.
    fn forget(&mut self, index: usize) {
        let fillings = self.fillings();
        for (own, pour) in self.pours.iter_mut().enumerate().skip(index) {
            let Some(gone) = pour.take() else { continue };
            if gone.how != How::Due && fillings.contains(&own) {
                self.soaks.extend(gone.out.map(|out| (out - gone.full).max(Time::ZERO)));
            }
        }
        if fillings.first().is_none_or(|first| index < *first) {
            self.soaks.clear();
        }
    }

    fn behind(&mut self, by: Time, clock: Time) -> bool {
        let at = self.at(clock);
        let index = self.step_at(at);
        let Some((origin, step)) = self.origin.zip(self.step(index)) else { return false };
        let (pour, leaves) = (pour_of(step), step.leaves());
        let to = (at - by).max(pour);
        if at <= to || self.count_in(clock).is_some() {
            return false;
        }
        if let Some(Some(known)) = self.pours.get_mut(index) {
            known.at = known.at + (at - to);
            known.full = known.full + (at - to);
            known.out = known.out.filter(|_| leaves <= to);
        }
        self.origin = Some(origin + (at - to));
        (self.floor, self.missed, self.left, self.back) = (to, None, None, None);
        true
    }

    fn go(&mut self, to: Time, clock: Time) -> bool {
        let at = self.at(clock);
        if self.count_in(clock).is_some() {
            return false;
        }
        let was = self.step_at(at);
        let is_early = self.step(was).is_some_and(|step| {
            pour_of(step) <= at && at < step.leaves() && step.leaves() <= to && step.bath.is_some()
        });
        self.undecide(to);
        let target = self.step_at(to);
        let Some((pour, leaves)) = self.step(target).map(|step| (pour_of(step), step.leaves())) else {
            return false;
        };
        let (is_in, is_draining) = (pour < to && to < leaves, pour < to && leaves <= to);
        let known = self.pours.get(target).copied().flatten();
        let is_back = is_in && known.is_some_and(|known| known.out.is_some());
        self.leave(if is_draining { target + 1 } else { target }, clock);
        self.forget(if is_draining || is_in && !is_back { target + 1 } else { target });
        if let Some((known, step)) =
            self.pours.get_mut(target).zip(self.schedule.steps.get(target)).filter(|_| is_back)
        {
            *known = self.origin.map(|_| due(step, clock - to));
        }
        self.move_to(to, clock);
        self.left = is_early.then_some(Left { step: was, clock, at }).filter(|_| at < to);
        true
    }

    /// The time in the schedule from which a step goes on if its bath, taken out too early, is back in now. Film
    /// outside a developer goes on developing at half the rate. Any other step goes on from where it stopped.
    pub(super) fn resumes(&self, left: Left, clock: Time) -> Time {
        let develops = self.step(left.step).is_some_and(|step| step.kind == StepKind::Develop);
        let out = if develops { (clock - left.clock).ms / 2 } else { 0 };
        let latest = self.step(left.step).map_or(left.at, PlannedStep::leaves);
        (left.at + Time::from_ms(out)).min(latest.max(left.at))
    }

    fn back_in(&mut self, clock: Time) -> bool {
        let Some(left) = self.left else { return false };
        let to = self.resumes(left, clock);
        let pour = self.pours.get(left.step).copied().flatten();
        self.forget(left.step);
        let full = clock + self.step(left.step).map_or(Time::ZERO, |step| step.fill);
        if let Some(known) = self.pours.get_mut(left.step) {
            *known = pour.map(|pour| Pour { full, out: None, ..pour });
        }
        self.move_to(to, clock);
        (self.settled, self.back) = (to, Some((left.step, clock)));
        true
    }

    fn not_now(&mut self, clock: Time) -> bool {
        let at = self.at(clock);
        let moving = self.moving(at).filter(|_| self.origin.is_some() && self.missed.is_none());
        let begins = moving.map(|event| event.at);
        self.missed = self.missed.or(begins);
        begins.is_some()
    }

    fn read(&mut self, temperature: Temperature, clock: Time) -> bool {
        let when = self.at(clock);
        let index = self.step_at(when);
        let Some(step) = self.step(index).filter(|_| self.origin.is_some()) else { return false };
        let (zero, leaves, before) = (phrase::zero(&self.schedule, step), step.leaves(), step.duration);
        if when < zero || leaves <= when || step.bath.is_none() {
            return false;
        }
        let reading = Reading { at: Time::from_seconds((when - zero).ms / 1000), temperature };
        let own = self.readings.iter().filter(|read| read.step == index).map(|read| read.reading);
        let all: Vec<Reading> = own.chain([reading]).collect();
        let planned = self.base.steps.get(index).map_or(before, |step| step.duration);
        let has_sign = step.decision.is_some() || step.ended.is_some();
        let outcome = if has_sign { Reread::Fixed } else { self.schedule.reread(index, planned, &all) };
        let result = match outcome {
            Reread::Changed(schedule) => {
                self.replace(when, *schedule);
                Ok((before, self.step(index).map_or(before, |step| step.duration)))
            }
            Reread::Small => Err(Stays::Small),
            Reread::Fixed => Err(Stays::Fixed),
            Reread::Outside(..) => Err(Stays::Outside),
        };
        self.readings.push(ReadIn { step: index, when, reading, result });
        true
    }
}
