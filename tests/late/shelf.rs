//! Every evening of the shelf, with and without a tank, followed by a person who is late at each pour. What is true of
//! the tank is calculated here, from the schedule and the times at which the person really poured.

use wetside::compile::{Action, Event, PlannedStep, Schedule};
use wetside::emit::{Live, Said};
use wetside::model::{StepKind, Time};

use super::{Recipes, followed};
use crate::evenings::SHELF;

const DELAYS: [i64; 4] = [0, 5, 20, 60];
const MS: Time = Time::from_ms(1);

fn pour(step: &PlannedStep) -> Time {
    step.start + step.handling
}

fn is_lamp(step: &PlannedStep) -> bool {
    step.kind == StepKind::Expose
}

/// Whether a person pours in this step, or switches a lamp on.
fn is_done_by_hand(step: &PlannedStep) -> bool {
    is_lamp(step) || step.bath.is_some() && step.kind != StepKind::Coat
}

fn word(action: Action) -> &'static str {
    match action {
        Action::Pour | Action::Fill => "POUR",
        Action::Agitate => "AGITATE",
        Action::Drain | Action::Dump => "DRAIN",
        Action::Lower => "LOWER",
        Action::Lift => "LIFT",
        Action::Coat => "COAT",
        Action::Expose => "LAMP",
        Action::Dry => "HANG",
        Action::Handle | Action::Rest | Action::Warm => "WAIT",
        Action::Knock | Action::Mix => panic!("{action:?} takes no time"),
    }
}

/// A person who follows an evening.
struct Evening<'a> {
    name: String,
    schedule: &'a Schedule,
    live: Live,
    /// When each bath really went in.
    poured: Vec<Option<Time>>,
    compared: usize,
}

impl Evening<'_> {
    /// Compares the screen with the tank, `own` after the pour of the step with this index.
    fn compare(&mut self, index: usize, own: Time) {
        let step = &self.schedule.steps[index];
        let clock = self.poured[index].unwrap() + own;
        let at = pour(step) + own;
        let now = self.live.state(clock);
        let name = format!("{}: {:?} {:?} at {own}: {now:?}", self.name, step.kind, step.name);
        assert_eq!(now.step, index, "{name}");
        assert_eq!(now.due, None, "{name}");
        let is_looked_for = step.decision.as_ref().is_some_and(|decision| {
            let least = if decision.times.is_some() { Time::ZERO } else { decision.least };
            decision.looks.first().copied().unwrap_or(least) <= own && at < step.leaves()
        });
        let lasts = |event: &&Event| event.at <= at && at < event.at + event.length;
        let event = step.events.iter().find(lasts);
        // A change of water without a filling time is shown for a while.
        let has_instant = step.events.iter().any(|event| {
            event.action == Action::Fill
                && event.length == Time::ZERO
                && event.at <= at
                && pour(step) < event.at
        });
        if is_looked_for {
            assert!(["LOOK", "POUR", "LOWER"].contains(&now.word), "{name}");
        } else if let Some(event) = event {
            if !has_instant {
                assert_eq!(now.word, word(event.action), "{name}");
            }
            if !has_instant && ["DRAIN", "POUR"].contains(&now.word) {
                let left = Time::from_seconds(((event.at + event.length - at).ms + 999) / 1000);
                assert_eq!(now.count, Some(left.to_string()), "{name}");
            }
        } else if !has_instant {
            assert_eq!(now.word, "REST", "{name}");
        }
        self.compare_lid(clock, at, &name);
        self.compared += 1;
    }

    /// Light is allowed once the film has really been in the fixer for long enough, and the recipe allows light.
    fn compare_lid(&self, clock: Time, at: Time, name: &str) {
        let Some(light) = self.schedule.light else { return };
        let is_free =
            self.live.lid(clock).is_some_and(|line| ["LID FREE", "LIGHT MAY GO ON"].contains(&&*line));
        let steps = self.schedule.steps.iter().zip(&self.poured);
        let fixed = steps.filter(|(step, _)| step.kind == StepKind::Fix).filter_map(|(step, poured)| {
            let (in_at, out) = ((*poured)? + step.fill, (*poured)? + (step.end - step.drain - pour(step)));
            Some((clock.min(out) - in_at).max(Time::ZERO))
        });
        let fixed = fixed.fold(Time::ZERO, |sum, time| sum + time);
        let is_cleared = light.in_fixer.is_none_or(|needed| needed <= fixed);
        let is_allowed = light.at <= at || light.in_fixer.is_some();
        if is_free {
            assert!(is_cleared && is_allowed, "{name}: {fixed}");
        }
        if is_cleared && light.at <= at && light.in_fixer.is_some() {
            assert!(is_free, "{name}: {fixed} {:?}", self.live.lid(clock));
        }
    }

    /// The whole evening. Returns the true extra time of each step, which is the delay of the next pour.
    fn follow(&mut self, delay: Time) -> Vec<(StepKind, Option<String>, Time)> {
        let mut longer = Vec::new();
        self.live.say(Said::Start, Time::ZERO);
        // The session begins after the count-in of five seconds.
        let mut due = Time::from_seconds(5) + pour(&self.schedule.steps[0]);
        for (index, step) in self.schedule.steps.iter().enumerate() {
            let is_first = index == 0 && step.handling == Time::ZERO;
            let late = is_done_by_hand(step) && !is_first;
            let poured = if late { due + delay } else { due };
            if late {
                let now = self.live.state(due);
                let expected = (!is_lamp(step)).then_some(Time::ZERO);
                assert_eq!((now.step, now.due), (index, expected), "{}: {:?} is due", self.name, step.kind);
                let before = self.live.state(poured - MS);
                if before.step == index && before.due.is_some() {
                    assert_eq!(before.due, Some(poured - MS - due), "{}: {:?}", self.name, step.kind);
                }
                assert!(self.live.say(Said::In(index), poured));
                if let Some(before) = index.checked_sub(1).map(|before| &self.schedule.steps[before]) {
                    let is_timed = before.bath.is_some() && before.decision.is_none() && delay > Time::ZERO;
                    longer.extend(is_timed.then(|| (before.kind, before.name.clone(), delay)));
                }
            }
            self.poured[index] = Some(poured);
            self.through(index);
            let next = self.schedule.steps.get(index + 1).map_or(step.end, pour);
            due = poured + (next - pour(step));
        }
        longer
    }

    /// Compares at the beginning, in the middle and at the end of each action of a step and of each rest.
    fn through(&mut self, index: usize) {
        let step = &self.schedule.steps[index];
        let ends = step.events.iter().flat_map(|event| [event.at, event.at + event.length]);
        let mut ends: Vec<Time> = ends.chain([step.end]).filter(|at| pour(step) <= *at).collect();
        ends.sort();
        ends.dedup();
        let is_until = |step: &PlannedStep| step.decision.as_ref().is_some_and(|it| it.times.is_none());
        let mut is_decided = false;
        for (from, to) in ends.iter().zip(ends.iter().skip(1)) {
            // A person sees the sign at the latest time.
            if is_until(step) && !is_decided && step.leaves() <= *from {
                let clock = self.poured[index].unwrap() + (step.leaves() - pour(step));
                is_decided = self.live.say(Said::Seen, clock);
                assert!(is_decided, "{}", self.name);
            }
            if is_decided {
                continue;
            }
            for at in [*from, Time::from_ms((from.ms + to.ms) / 2), *to - MS] {
                self.compare(index, at - pour(step));
            }
        }
        if is_until(step) && !is_decided {
            let clock = self.poured[index].unwrap() + (step.leaves() - pour(step));
            assert!(self.live.say(Said::Seen, clock), "{}", self.name);
        }
    }
}

#[test]
fn what_is_true_of_the_tank_is_on_the_screen_however_late_each_pour_is() {
    let recipes = Recipes::new();
    let (mut compared, mut without_a_tank) = (0, 0);
    for evening in &SHELF {
        let (at, rolls) = evening.all().next().unwrap();
        for tank in [Some(evening.tank), None] {
            let Some(schedule) = recipes.schedule(evening.recipe, at, rolls, tank) else {
                assert_eq!(tank, None, "{}", evening.recipe);
                continue;
            };
            without_a_tank += usize::from(tank.is_none());
            for delay in DELAYS {
                let mut followed = Evening {
                    name: format!("{} {at} {rolls} {tank:?} {delay} s late", evening.recipe),
                    schedule: &schedule,
                    live: followed(&schedule),
                    poured: vec![None; schedule.steps.len()],
                    compared: 0,
                };
                let longer = followed.follow(Time::from_seconds(delay));
                let end = Time::from_seconds(10_000_000);
                let took = followed
                    .live
                    .took(end)
                    .into_iter()
                    .filter_map(|took| Some((took.kind, took.name, took.time - took.of?)));
                assert_eq!(took.collect::<Vec<_>>(), longer, "{}", followed.name);
                compared += followed.compared;
            }
        }
    }
    assert!(compared > 20_000 && without_a_tank > 10, "{compared} {without_a_tank}");
}
