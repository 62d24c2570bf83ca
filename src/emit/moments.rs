//! The evening from its first second to its last, cut into moments: what begins, what lasts, and in a few
//! words what to do. A page that follows along, a live view, a cue track and a calendar all tell these
//! moments, so that none of them can say another thing than the next.

use crate::compile::{Action, Event, PlannedBath, PlannedStep, Schedule};
use crate::model::Time;

use super::fate::Fate;
use super::figure;
use super::moving::STILL;
use super::naming;
use super::plain::plain;

/// A part of the evening in which one thing is done. Moments follow each other without a gap.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Moment {
    /// When it begins, from the start of the first step.
    pub at: Time,
    /// When it ends; its beginning for what takes no time and has nothing behind it.
    pub until: Time,
    /// The step it belongs to, counted from 0.
    pub step: usize,
    /// What begins here, in order: each but the last takes no time. Empty where the film is left alone.
    pub actions: Vec<Action>,
    /// What to do, on one line and fit to be shown: `pour 2500 ml of MQ borax 1+1`.
    pub what: String,
    /// What to do in a word or two, for a small space: `pour`.
    pub short: String,
}

/// All moments of the evening, in order; drying is the last.
#[must_use]
pub fn moments(schedule: &Schedule) -> Vec<Moment> {
    let mut all = Vec::new();
    let mut instants: Vec<(&Event, String)> = Vec::new();
    for (at, step) in schedule.steps.iter().enumerate() {
        let teller = Teller { step, schedule };
        let mut now = step.start;
        for event in &step.events {
            if event.at > now {
                all.push(moment(at, (now, event.at), &mut instants, None));
            }
            if event.length == Time::ZERO {
                instants.push((event, teller.words(event)));
            } else {
                let lasting = Some((event.action, teller.words(event)));
                all.push(moment(at, (event.at, event.at + event.length), &mut instants, lasting));
            }
            now = event.at + event.length;
        }
        if step.end > now {
            all.push(moment(at, (now, step.end), &mut instants, None));
        }
    }
    if let (Some(end), false) = (schedule.steps.last(), instants.is_empty()) {
        all.push(moment(schedule.steps.len() - 1, (end.end, end.end), &mut instants, None));
    }
    all
}

/// What to do in one action of a step, as its moment tells it.
pub(super) fn words(schedule: &Schedule, step: &PlannedStep, event: &Event) -> String {
    Teller { step, schedule }.words(event)
}

/// Between what takes no time and what comes right after it.
const THEN: &str = ", then ";

/// One moment, which takes with it what took no time just before.
fn moment(
    step: usize,
    (at, until): (Time, Time),
    instants: &mut Vec<(&Event, String)>,
    lasting: Option<(Action, String)>,
) -> Moment {
    let mut actions: Vec<Action> = instants.iter().map(|(event, _)| event.action).collect();
    let mut told: Vec<String> = instants.drain(..).map(|(_, words)| words).collect();
    let short = lasting.as_ref().map(|(action, _)| *action).or(actions.last().copied());
    match lasting {
        Some((action, words)) => {
            actions.push(action);
            told.push(words);
        }
        None if at < until => told.push(STILL.to_owned()),
        None => {}
    }
    let short = short.map_or("still", short_word).to_owned();
    Moment { at, until, step, actions, what: told.join(THEN), short }
}

/// An action in a word.
fn short_word(action: Action) -> &'static str {
    match action {
        Action::Handle => "get ready",
        Action::Expose => "light",
        Action::Rest => "wait",
        Action::Pour
        | Action::Agitate
        | Action::Knock
        | Action::Drain
        | Action::Fill
        | Action::Dump
        | Action::Warm
        | Action::Dry => action.word(),
    }
}

struct Teller<'a> {
    step: &'a PlannedStep,
    schedule: &'a Schedule,
}

impl Teller<'_> {
    fn words(&self, event: &Event) -> String {
        let step = naming::called(self.step);
        match event.action {
            Action::Handle => format!("get ready for {step}"),
            Action::Pour | Action::Fill => self.pouring(event.action),
            Action::Agitate => self.moving(event),
            Action::Knock => "knock the tank".to_owned(),
            Action::Rest => "the tank stands empty".to_owned(),
            Action::Drain | Action::Dump => self.emptying(event.action),
            Action::Expose => match &self.step.light {
                Some(light) => format!("expose to light: {}", plain(light)),
                None => "expose to light".to_owned(),
            },
            Action::Warm => "let the tank stand dry in its warm water".to_owned(),
            Action::Dry => "hang the film to dry".to_owned(),
        }
    }

    fn pouring(&self, action: Action) -> String {
        let verb = if action == Action::Fill { "fill with" } else { "pour" };
        match &self.step.bath {
            Some(bath) => format!("{verb} {} of {}", figure::measured(bath.volume), naming::bath(bath)),
            None => format!("{verb} the bath"),
        }
    }

    fn moving(&self, event: &Event) -> String {
        match (event.by, event.count) {
            (Some("inversion"), Some(1)) => "1 inversion".to_owned(),
            (Some("inversion"), Some(count)) => format!("{count} inversions"),
            (Some("rotary"), Some(turns)) => format!("turn at {turns} rpm"),
            (Some(by), _) => format!("agitate by {by}"),
            (None, _) => "agitate".to_owned(),
        }
    }

    fn emptying(&self, action: Action) -> String {
        let verb = if action == Action::Dump { "dump" } else { "drain" };
        let fate =
            |bath: &PlannedBath| Fate::of(self.step, bath, naming::written(self.schedule, self.step)).words();
        match self.step.bath.as_ref().and_then(fate) {
            Some(words) => format!("{verb}: {words}"),
            None => verb.to_owned(),
        }
    }
}
