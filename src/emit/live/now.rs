//! What the screen says at one time: one word, one number, what holding a key confirms, and how late a pour is.

use super::tank::{How, Tank, is_lamp, pour_of};
use crate::compile::{Action, Event};
use crate::model::{StepKind, Time};

/// What a person confirms by holding a key.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Hold {
    /// The session starts. The first pour follows after the count-in.
    Start,
    /// The bath of the step with this index goes in now.
    In(usize),
    /// The agitation on the screen is postponed.
    NotNow,
    /// The person sees the sign that ends the step.
    Done,
    /// The lamp of the step with this index is on.
    Lamp(usize),
    /// The film hangs to dry.
    Hung,
}

/// What the screen says at one time.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Now {
    /// What to do, in one word.
    pub word: &'static str,
    /// The number on the screen; `None` for no number. Usually it is the time left for `word`. While a person looks for
    /// a sign, it is the time on the step's clock. For a pour that is not confirmed, it is the time since the pour was
    /// due: `+0:07`.
    pub count: Option<String>,
    /// How long ago the pour of the step was due, while holding a key can still confirm it.
    pub due: Option<Time>,
    /// What holding a key confirms; `None` if there is nothing to confirm.
    pub hold: Option<Hold>,
    /// The index of the current step.
    pub step: usize,
}

/// The longest delay of a pour after which holding a key can still confirm it.
const LATE_MAX: Time = Time::from_seconds(120);
/// The longest time for which a pour without a filling time is shown.
const SHOWN_MAX: Time = Time::from_seconds(10);
/// The longest time during which an agitation that was put off can still be done.
const MISSED_MAX: Time = Time::from_seconds(600);

/// A time that is left, rounded up to whole seconds.
pub(super) fn left(time: Time) -> String {
    Time::from_seconds((time.ms.max(0) + 999) / 1000).to_string()
}

/// A time that has passed, rounded down to whole seconds.
pub(super) fn passed(time: Time) -> String {
    Time::from_seconds(time.ms.max(0) / 1000).to_string()
}

fn word(action: Action) -> &'static str {
    match action {
        Action::Pour | Action::Fill => "POUR",
        Action::Agitate | Action::Knock => "AGITATE",
        Action::Drain | Action::Dump => "DRAIN",
        Action::Lower => "LOWER",
        Action::Lift => "LIFT",
        Action::Coat => "COAT",
        Action::Expose => "LAMP",
        Action::Dry => "HANG",
        Action::Handle | Action::Mix | Action::Rest | Action::Warm => "WAIT",
    }
}

impl Tank {
    /// What the screen says when the clock shows `clock`.
    pub(super) fn state(&self, clock: Time) -> Now {
        let at = self.at(clock);
        let step = self.step_at(at);
        let say = |word, count, due, hold| Now { word, count, due, hold, step };
        if self.origin.is_none() {
            return say("START", None, None, Some(Hold::Start));
        }
        if let Some(time) = self.count_in(clock) {
            return say("START", Some(left(time)), None, None);
        }
        if self.end <= at {
            return say("DONE", None, None, None);
        }
        let due = self.due(step, clock).filter(|_| self.can_confirm(step, clock));
        let confirm = due.map(|_| Hold::In(step));
        if let Some(open) = self.open(clock).filter(super::legs::Open::is_looking) {
            let done = self.sign(clock).map(|_| Hold::Done);
            return say("LOOK", Some(passed(open.clock)), due, confirm.or(done));
        }
        if let Some(event) = self.pouring(step, at, clock) {
            let is_first = self.is_first_pour(step, event);
            let count = match due {
                Some(late) if is_first => Some(format!("+{}", passed(late))),
                _ if event.length > Time::ZERO => Some(left(event.at + event.length - at)),
                _ => None,
            };
            return say(word(event.action), count, due, confirm.or(is_first.then_some(Hold::In(step))));
        }
        if let Some(until) = self.put_off(at) {
            return say("AGITATE", Some(left(until - at)), due, confirm);
        }
        let Some(event) = self.lasting(at) else {
            return say("REST", Some(left(self.until(at, clock) - at)), due, confirm);
        };
        let ends = event.at + event.length;
        let (count, hold) = match event.action {
            Action::Dry => (None, Some(Hold::Hung)),
            Action::Expose if !self.is_confirmed(step) => (Some(left(event.length)), Some(Hold::Lamp(step))),
            Action::Agitate => (Some(left(self.until(at, clock).min(ends) - at)), Some(Hold::NotNow)),
            _ => (Some(left(ends - at)), None),
        };
        say(word(event.action), count, due, confirm.or(hold))
    }

    /// The time in the schedule until which the current instruction holds: its end, or the first look for a sign if
    /// that is earlier.
    pub(super) fn until(&self, at: Time, clock: Time) -> Time {
        let index = self.moments.partition_point(|moment| moment.at <= at).saturating_sub(1);
        let until = self.moments.get(index).map_or(at, |moment| moment.until);
        self.open(clock).map_or(until, |open| until.min(open.first_look()))
    }

    fn lasting(&self, at: Time) -> Option<&Event> {
        let events = self.step(self.step_at(at)).map_or(&[][..], |step| &step.events);
        events.iter().rfind(|event| event.at <= at && at < event.at + event.length)
    }

    pub(super) fn moving(&self, at: Time) -> Option<&Event> {
        self.lasting(at).filter(|event| event.action == Action::Agitate)
    }

    /// Until when an agitation that was put off can still be done: for half of the time to the next action, at most
    /// [`MISSED_MAX`]. `None` if there is no such agitation.
    fn put_off(&self, at: Time) -> Option<Time> {
        let missed = self.missed.filter(|missed| *missed <= at)?;
        let events = self.step(self.step_at(at)).map_or(&[][..], |step| &step.events);
        let next = events.iter().find(|event| missed < event.at && event.action != Action::Knock)?;
        let until = missed + Time::from_ms((next.at - missed).ms / 2).min(MISSED_MAX);
        (at < until).then_some(until)
    }

    /// The pour to show now. A pour with a filling time is shown while the tank fills. Any other pour is shown for at
    /// most [`SHOWN_MAX`], and the pour of a step only until a person confirms it.
    fn pouring(&self, step: usize, at: Time, clock: Time) -> Option<&Event> {
        let events = &self.step(step)?.events;
        let event = events.iter().rfind(|event| event.is_filling() && event.at <= at)?;
        if event.length > Time::ZERO {
            return Some(event).filter(|event| at < event.at + event.length);
        }
        let most = if self.is_first_pour(step, event) {
            self.due(step, clock)?;
            SHOWN_MAX
        } else {
            let next = events.iter().find(|next| event.at < next.at + next.length);
            let until = next
                .map_or(event.at, |next| if next.at > event.at { next.at } else { next.at + next.length });
            SHOWN_MAX.min(Time::from_ms((until - event.at).ms / 2))
        };
        (at < event.at + most).then_some(event)
    }

    /// Whether this action is the pour of the step, and not a later change of wash water.
    fn is_first_pour(&self, step: usize, event: &Event) -> bool {
        self.step(step).is_some_and(|step| pour_of(step) == event.at)
    }

    pub(super) fn is_confirmed(&self, step: usize) -> bool {
        self.pours.get(step).copied().flatten().is_some_and(|pour| pour.how != How::Due)
    }

    fn due(&self, index: usize, clock: Time) -> Option<Time> {
        let step = self.step(index).filter(|step| step.bath.is_some() && !is_lamp(step))?;
        let since = self.at(clock) - pour_of(step);
        (!self.is_confirmed(index) && step.kind != StepKind::Coat && since >= Time::ZERO).then_some(since)
    }

    /// Whether holding a key can confirm the pour of a step: for [`LATE_MAX`], or longer if the lid waits for that
    /// bath, but only until draining begins.
    fn can_confirm(&self, index: usize, clock: Time) -> bool {
        let Some(step) = self.step(index) else { return false };
        let at = self.at(clock);
        let lid_waits = || {
            let unmet = self.lid.as_ref().is_some_and(|lid| !lid.is_met(self.soaked(clock)));
            unmet && self.fillings().contains(&index)
        };
        at < step.leaves() && (at - pour_of(step) < LATE_MAX || lid_waits())
    }
}
