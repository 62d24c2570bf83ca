//! Steps that a person ends at a sign (R18), while a session is followed. Before the decision, all times assume the
//! latest possible end of the step. The decision moves all later times.

use super::tank::Tank;
use crate::compile::{Decision, PlannedStep};
use crate::emit::phrase;
use crate::emit::plain::plain;
use crate::model::Time;

/// The decision that a person must still make in the current step, which ends when they see a sign.
pub(super) struct Open<'a> {
    /// The index of the leg that begins when the step ends. (A leg is the part of the schedule between two decisions.)
    leg: usize,
    pub(super) decision: &'a Decision,
    /// The time in the schedule at which the step's clock shows 0:00.
    zero: Time,
    /// The time that the step's clock shows now.
    pub(super) clock: Time,
}

impl Open<'_> {
    /// The time in the schedule of the first look for the sign. If the recipe states no look, it is the earliest end of
    /// the step, or 0:00 of the step's clock if the step goes on after the sign.
    pub(super) fn first_look(&self) -> Time {
        let least = if self.decision.times.is_some() { Time::ZERO } else { self.decision.least };
        self.zero + self.decision.looks.first().copied().unwrap_or(least)
    }

    pub(super) fn is_looking(&self) -> bool {
        self.zero + self.clock >= self.first_look()
    }

    /// Whether the step's latest end has passed and the session waits for the sign.
    pub(super) fn is_late(&self) -> bool {
        self.decision.times.is_none() && self.decision.most <= self.clock
    }

    /// Whether a person may confirm the sign now. A sign that ends the step can be confirmed only from the earliest end
    /// of the step on.
    fn is_ripe(&self) -> bool {
        let least = if self.decision.times.is_some() { Time::ZERO } else { self.decision.least };
        self.clock >= least
    }

    /// What to look for, and when the step ends: `LOOK until the sky shows dark, from 1:00 to 8:00`.
    pub(super) fn words(&self) -> String {
        let Decision { sign, times, least, most, .. } = self.decision;
        let sign = plain(sign);
        match times {
            Some(times) => format!("LOOK for the time at which {sign}; {times} x that, {least} to {most}"),
            None => format!("LOOK until {sign}, from {least} to {most}"),
        }
    }
}

impl Tank {
    /// The decision that a person must still make in the current step; `None` before the step's clock runs.
    pub(super) fn open(&self, clock: Time) -> Option<Open<'_>> {
        let at = self.at(clock);
        let leg = self.schedule.leg(at) + 1;
        let step = self.schedule.steps.get(self.schedule.legs.get(leg)?.after?)?;
        let zero = phrase::zero(&self.schedule, step);
        let decision = step.decision.as_ref().filter(|_| zero <= at)?;
        // At the latest end of the step, the time in the schedule stops and waits for the sign, but the step's clock
        // goes on.
        let now = self.origin.map_or(at, |origin| clock - origin).max(at);
        Some(Open { leg, decision, zero, clock: now - zero })
    }

    pub(super) fn sign(&self, clock: Time) -> Option<String> {
        self.open(clock).filter(Open::is_ripe).map(|open| plain(&open.decision.sign))
    }

    /// Records that a person sees the sign, and moves all later times. Returns `false` if there is no sign to confirm.
    pub(super) fn decide(&mut self, clock: Time) -> bool {
        let Some(open) = self.open(clock).filter(Open::is_ripe).filter(|_| self.origin.is_some()) else {
            return false;
        };
        // The time of the sign counts in whole seconds, as all other times of the session do.
        let seen = Time::from_seconds(open.clock.ms / 1000);
        let (zero, most) = (open.zero, open.decision.most);
        let is_past = open.decision.times.is_none() && most < open.clock;
        let after = self.schedule.decided(open.leg, seen);
        let step = self.schedule.legs.get(open.leg).and_then(|leg| leg.after);
        self.replace(zero + seen.min(most), after);
        let leaves = step.and_then(|step| self.step(step)).map(PlannedStep::leaves).filter(|_| is_past);
        if let Some(leaves) = leaves {
            self.move_to(leaves, clock);
        }
        true
    }

    /// How much shorter the session after `at` is if every step that a person ends at a sign has its shortest time.
    pub(super) fn slack(&self, at: Time) -> Time {
        let spared =
            |leg: usize| self.schedule.legs.get(leg).map_or(Time::ZERO, |leg| leg.start - leg.earliest);
        spared(self.schedule.legs.len().saturating_sub(1)) - spared(self.schedule.leg(at))
    }

    /// Whether a look for the sign is due between these two clock times.
    pub(super) fn looks(&self, after: Time, clock: Time) -> bool {
        let Some((open, origin)) = self.open(clock).zip(self.origin) else { return false };
        let due = |look: &Time| after < origin + open.zero + *look && origin + open.zero + *look <= clock;
        open.decision.looks.iter().any(due)
    }
}
