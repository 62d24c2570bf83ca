//! R18. A person ends some steps at a sign, so the schedule has legs: each leg begins at the start or where such a step
//! leaves its bath. The schedule assumes that each such step ends as late as allowed. If a step ends earlier, all that
//! follows moves.

use super::clock::FillAndDrain;
use super::schedule::{Action, Event, PlannedStep, Schedule};
use super::time::to_whole_second;
use crate::model::{Clock, Duration, Number, Sign, Step, Time, Volume};

/// How a person ends a step at a sign, such as `no yellow is left`. All times are on the clock of the step (rule R6).
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Decision {
    /// The sign that the person watches for.
    pub sign: String,
    /// The duration of the step as a multiple of the time to the sign, such as 6. `None` if the step ends at the sign.
    pub times: Option<Number>,
    /// The earliest time at which the step may end.
    pub least: Time,
    /// The latest time at which the step may end.
    pub most: Time,
    /// The time from one look for the sign to the next; `None` if the recipe does not state it.
    pub look: Option<Time>,
    /// The times at which to look for the sign.
    pub looks: Vec<Time>,
}

impl Decision {
    /// The time between the earliest and the latest end of the step.
    pub fn slack(&self) -> Time {
        self.most - self.least
    }

    /// When the step ends if the sign is seen at `seen`. Both times are on the clock of the step.
    pub fn end_for(&self, seen: Time) -> Time {
        let end = self.times.map_or(seen, |times| seen.by(times));
        end.max(self.least).min(self.most)
    }
}

/// The part of a schedule between two steps that a person ends at a sign. Once the leg has begun, all times in it are
/// exact.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Leg {
    /// When the leg begins if every step before it ends as late as allowed, counted from the start of the first step.
    pub start: Time,
    /// When the leg begins if every step before it ends as early as allowed.
    pub earliest: Time,
    /// The index of the step that a person ends at the start of the leg; `None` for the first leg.
    pub after: Option<usize>,
}

pub(super) fn decision(step: &Step, taken: &FillAndDrain) -> Option<Decision> {
    let Duration::Sign(sign) = &*step.duration else { return None };
    let most = to_whole_second(sign.at_most);
    // The film cannot leave a bath before the tank is full.
    let shortest = match (*step.clock, sign.times) {
        (Clock::FromFull, _) => Time::ZERO,
        (Clock::FromPour, None) => taken.fill,
        (Clock::FromPour, Some(_)) => taken.fill + taken.drain,
    };
    let stated = sign.at_least.map(to_whole_second);
    let least = stated.unwrap_or(Time::ZERO).max(shortest).min(most);
    let looks = looks(sign, stated, least, most);
    Some(Decision { sign: sign.text.clone(), times: sign.times, least, most, look: sign.look, looks })
}

const LOOKS_MAX: usize = 1000;

/// The times at which to look for the sign. The first is the stated shortest time of the step; without one, it is
/// `sign.look`. If the step goes on after the sign, as in `6 x "…"`, the first is always `sign.look`.
fn looks(sign: &Sign, stated: Option<Time>, least: Time, most: Time) -> Vec<Time> {
    let Some(look) = sign.look.filter(|look| *look > Time::ZERO) else { return Vec::new() };
    let first = if sign.times.is_none() { stated.map_or(look, |_| least) } else { look };
    let seen_in_time = |at: &Time| sign.times.map_or(*at, |times| at.by(times)) <= most;
    let all = std::iter::successors(Some(first), |at| Some(*at + look));
    all.skip_while(|at| sign.times.is_none() && *at < least)
        .take_while(seen_in_time)
        .take(LOOKS_MAX)
        .collect()
}

pub(super) fn legs(steps: &[PlannedStep]) -> Vec<Leg> {
    let mut legs = vec![Leg { start: Time::ZERO, earliest: Time::ZERO, after: None }];
    let mut slack = Time::ZERO;
    for (at, step) in steps.iter().enumerate() {
        let Some(decision) = &step.decision else { continue };
        slack = slack + decision.slack();
        let start = step.leaves();
        legs.push(Leg { start, earliest: start - slack, after: Some(at) });
    }
    legs
}

/// The water that the schedule uses if every step ends as early as allowed. `water` is what it uses if every step ends
/// as late as allowed.
pub(super) fn least_water(steps: &[PlannedStep], water: Volume) -> Volume {
    let saved = steps.iter().filter_map(|step| Some(step.running(step.decision.as_ref()?.slack())));
    saved.fold(water, |water, saved| Volume { fl: water.fl.saturating_sub(saved.fl) })
}

impl PlannedStep {
    /// When the bath begins to drain, or a dry step ends, counted from the start of the schedule.
    pub fn leaves(&self) -> Time {
        self.end - self.drain
    }

    fn running(&self, time: Time) -> Volume {
        let flow = self.bath.as_ref().and_then(|bath| bath.flow);
        flow.map_or(Volume::ZERO, |flow| flow.scaled(time.ms, 60_000))
    }
}

impl Schedule {
    /// The index of the leg that contains the time `at` of the schedule.
    pub fn leg(&self, at: Time) -> usize {
        self.legs.partition_point(|leg| leg.start <= at).saturating_sub(1)
    }

    /// The start of the leg that contains the time `at` of the schedule.
    pub fn leg_start(&self, at: Time) -> Time {
        self.legs.get(self.leg(at)).map_or(Time::ZERO, |leg| leg.start)
    }

    /// The schedule assumes that every step ends as late as allowed. The time `at` of the schedule becomes the returned
    /// time if every step ends as early as allowed.
    pub fn earliest(&self, at: Time) -> Time {
        self.legs.get(self.leg(at)).map_or(at, |leg| at - leg.start + leg.earliest)
    }

    /// The schedule after a person has ended the step before the leg with this index. The sign was seen at `seen`, on
    /// the clock of that step. Later steps may still end at any time. If that step waits for no sign, the schedule is
    /// returned unchanged.
    #[must_use]
    pub fn decided(&self, leg: usize, seen: Time) -> Schedule {
        let mut after = self.clone();
        let Some(&Leg { start, after: Some(at), .. }) = self.legs.get(leg) else { return after };
        let Some(step) = after.steps.get_mut(at) else { return after };
        let Some(decision) = step.decision.take() else { return after };
        let end = decision.end_for(seen);
        let (earlier, slack) = (decision.most - end, end - decision.least);
        let cut = start - earlier;
        step.duration = end;
        step.ended = Some(decision);
        step.events = std::mem::take(&mut step.events)
            .into_iter()
            .filter_map(|event| cut_at(event, start, cut))
            .collect();
        let (saved, kept) = (step.running(earlier), step.running(slack));
        let moved = |moment: Time| if start <= moment { moment - earlier } else { moment };
        for step in after.steps.iter_mut().skip(at) {
            step.start = moved(step.start);
            step.end = moved(step.end);
            step.events.iter_mut().for_each(|event| event.at = moved(event.at));
        }
        after.legs.remove(leg);
        for leg in after.legs.iter_mut().skip(leg) {
            *leg = Leg { start: moved(leg.start), earliest: leg.earliest + slack, ..*leg };
        }
        after.light.iter_mut().for_each(|light| light.at = moved(light.at));
        after.total = moved(after.total);
        after.drying = after.steps.iter().find(|step| step.is_drying()).map(|step| step.duration);
        after.water = Volume { fl: after.water.fl.saturating_sub(saved.fl) };
        after.least_water = after.least_water + kept;
        after
    }
}

/// An action of a step that a person ended early, so that the film leaves the bath at `cut`, not at `start`. The action
/// is shortened to end at `cut`, in whole inversions. `None` if nothing of the action is left.
fn cut_at(event: Event, start: Time, cut: Time) -> Option<Event> {
    if event.at >= start || event.at + event.length <= cut && event.at < cut {
        return Some(event);
    }
    if event.at >= cut {
        return None;
    }
    let left = cut - event.at;
    let inversions = event.count.filter(|_| event.by == Some("inversion") && event.action == Action::Agitate);
    let Some(count) = inversions else { return Some(Event { length: left, ..event }) };
    let each = (event.length.ms / i64::from(count.max(1))).max(1);
    let whole = u32::try_from(left.ms / each).unwrap_or(0).min(count);
    (whole > 0).then(|| Event { length: Time::from_ms(each).times(whole), count: Some(whole), ..event })
}
