//! The session as moments without gaps, which the page, the terminal, the cue track and the calendar follow.

use super::moving::{self, STILL};
use super::naming::Fate;
use super::plain::{plain, prefixed};
use super::{figure, naming};
use crate::compile::{Action, Event, PlannedStep, Schedule};
use crate::model::Time;

/// A stretch of the session in which one thing is done.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Moment {
    /// Its start, from the start of the first step.
    pub at: Time,
    /// Its end, from the start of the first step.
    pub until: Time,
    /// The number of its step, from 0.
    pub step: usize,
    /// The actions at its start. All but the last take no time. Empty while the film is left still.
    pub actions: Vec<Action>,
    /// What to do, on one line: `pour 2500 ml of MQ borax 1+1`.
    pub what: String,
}

/// All moments of the session, in order.
pub fn moments(schedule: &Schedule) -> Vec<Moment> {
    let mut all = Vec::new();
    // Actions that take no time become part of the next moment.
    let mut instants: Vec<(Action, String)> = Vec::new();
    for (at, step) in schedule.steps.iter().enumerate() {
        let mut now = step.start;
        for event in &step.events {
            if event.at > now {
                all.push(moment(at, now, event.at, std::mem::take(&mut instants)));
            }
            instants.push((event.action, words(schedule, step, event)));
            now = event.at + event.length;
            if event.length > Time::ZERO {
                let lasting = moment(at, event.at, event.at, std::mem::take(&mut instants));
                all.push(Moment { until: now, ..lasting });
            }
        }
        if step.end > now {
            all.push(moment(at, now, step.end, std::mem::take(&mut instants)));
        }
    }
    if let Some((last, before)) = schedule.steps.split_last().filter(|_| !instants.is_empty()) {
        all.push(moment(before.len(), last.end, last.end, instants));
    }
    all
}

/// A moment that begins with these actions. If it lasts, the film is then left still.
fn moment(step: usize, at: Time, until: Time, begun: Vec<(Action, String)>) -> Moment {
    let (actions, mut words): (Vec<Action>, Vec<String>) = begun.into_iter().unzip();
    if at < until {
        words.push(STILL.to_owned());
    }
    Moment { at, until, step, actions, what: words.join(", then ") }
}

/// What to do: `pour 2500 ml of MQ borax 1+1`.
pub(super) fn words(schedule: &Schedule, step: &PlannedStep, event: &Event) -> String {
    match event.action {
        Action::Handle => format!("get ready for {}", naming::called(step)),
        Action::Pour | Action::Fill => {
            poured(step, event.action) + &prefixed(" of ", step.bath.as_ref().map(naming::bath))
        }
        Action::Agitate => match (event.by, event.count) {
            (Some("inversion"), Some(_)) => moving::amount(event),
            (Some("rotary"), Some(turns)) => format!("turn at {turns} rpm"),
            (Some(by), _) => format!("agitate by {by}"),
            (None, _) => "agitate".to_owned(),
        },
        Action::Knock => "knock the tank".to_owned(),
        Action::Rest => "the tank stands empty".to_owned(),
        Action::Drain | Action::Dump => {
            event.action.word().to_owned() + &prefixed(": ", Fate::of(schedule, step).map(Fate::words))
        }
        Action::Expose => "expose to light".to_owned() + &prefixed(": ", step.light.as_deref().map(plain)),
        Action::Warm => "let the tank stand dry in its warm water".to_owned(),
        Action::Dry => "hang the film to dry".to_owned(),
    }
}

/// What to pour, without its name: `pour 2500 ml`.
pub(super) fn poured(step: &PlannedStep, action: Action) -> String {
    let verb = if action == Action::Fill { "fill with" } else { "pour" };
    let volume = step.bath.as_ref().map(|bath| figure::ml(bath.volume));
    format!("{verb} {}", volume.as_deref().unwrap_or("the bath"))
}
