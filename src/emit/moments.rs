//! Divides a session into moments without gaps, which the terminal and the calendar follow. This file also puts into
//! words the actions and the agitation of one filling of the tank. The words are made from the planned actions, so that
//! the card says what the schedule does (R7).

use super::plain::{joined, plain, prefixed};
use super::vessel::{Vessel, dried};
use super::{card, phrase};
use crate::compile::{Action, Event, PlannedStep, Schedule, spoken};
use crate::model::Time;

/// The least number of equal movements at equal intervals that are written as a rhythm, `every 30 s`. If there
/// are fewer, each movement is written with its own time.
const RHYTHM: usize = 3;
pub(super) const STILL: &str = "leave it still";
const UNBROKEN: &str = "without a pause";

/// A stretch of the session in which one thing is done.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Moment {
    /// The moment's start, from the start of the first step.
    pub at: Time,
    /// The moment's end, from the start of the first step.
    pub until: Time,
    /// The index of the step to which the moment belongs.
    pub step: usize,
    /// The index of the leg. The first leg begins with the session, and each later leg where a person ends a step at a
    /// sign. All times assume that such steps take their longest time.
    pub leg: usize,
    /// The actions at the moment's start; all but the last take no time. Empty if the film is only left still.
    pub actions: Vec<Action>,
    /// What to do, on one line: `pour 2500 ml of MQ borax 1+1`.
    pub what: String,
}

/// All moments of the session, in order.
pub fn moments(schedule: &Schedule) -> Vec<Moment> {
    let mut all = Vec::new();
    // Actions that take no time and are not in a moment yet. They become part of the next moment.
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
    all.iter_mut().for_each(|moment| moment.leg = schedule.leg(moment.at));
    all
}

/// A moment that begins with the actions `begun`. If the moment takes time, the film is left still after these actions.
fn moment(step: usize, at: Time, until: Time, begun: Vec<(Action, String)>) -> Moment {
    let (actions, mut words): (Vec<Action>, Vec<String>) = begun.into_iter().unzip();
    if at < until {
        words.push(STILL.to_owned());
    }
    Moment { at, until, step, leg: 0, actions, what: words.join(", then ") }
}

/// What to do for an event: `pour 2500 ml of MQ borax 1+1`.
pub(super) fn words(schedule: &Schedule, step: &PlannedStep, event: &Event) -> String {
    match event.action {
        Action::Mix => joined(schedule.mixed_at(event.at).map(|step| mixing(schedule, step)), ", and "),
        Action::Handle => format!("get ready for {}", phrase::called(step)),
        Action::Pour | Action::Fill => {
            poured(step, event.action) + &prefixed(" of ", step.bath.as_ref().map(phrase::bath))
        }
        Action::Lower => {
            let running = step.bath.as_ref().and_then(phrase::running).map_or("", |_| "running ");
            let bath = joined(step.bath.as_ref().map(phrase::bath), "");
            format!("{} {running}{bath}", Vessel::of(schedule).lowered())
        }
        Action::Lift => "lift, and let it drip".to_owned(),
        Action::Agitate => match (event.by, event.count) {
            (Some("inversion"), Some(_)) => amount(event),
            (Some("rotary"), Some(turns)) => format!("turn at {turns} rpm"),
            (Some(by), _) => format!("agitate by {by}"),
            (None, _) => "agitate".to_owned(),
        },
        Action::Knock => format!("knock the {}", Vessel::of(schedule).word()),
        Action::Rest => Vessel::of(schedule).waits().to_owned(),
        Action::Drain | Action::Dump => {
            event.action.word().to_owned() + &prefixed(": ", phrase::out_to(schedule, step))
        }
        Action::Coat => {
            let volume = step.bath.as_ref().map(|bath| phrase::ml(bath.volume)).unwrap_or_default();
            format!("coat with {volume}{}", prefixed(" of ", step.bath.as_ref().map(phrase::bath)))
        }
        Action::Expose => "expose to light".to_owned() + &prefixed(": ", step.light.as_deref().map(plain)),
        Action::Warm => Vessel::of(schedule).warms().to_owned(),
        Action::Dry => dried(schedule).to_owned() + " to dry",
    }
}

fn mixing(schedule: &Schedule, step: &PlannedStep) -> String {
    let Some(bath) = &step.bath else { return String::new() };
    let parts =
        prefixed(": ", Some(joined(card::parts(schedule, bath), " + ")).filter(|parts| !parts.is_empty()));
    let lives = prefixed("; it keeps ", bath.lives.map(spoken));
    let (volume, what) = (phrase::ml(bath.volume), phrase::bath(bath));
    format!("mix {volume} of {what} for {}{parts}{lives}", phrase::head(step))
}

pub(super) fn poured(step: &PlannedStep, action: Action) -> String {
    let verb = if action == Action::Fill { "fill with" } else { "pour" };
    let volume = step.bath.as_ref().map(|bath| phrase::ml(bath.volume));
    format!("{verb} {}", volume.as_deref().unwrap_or("the bath"))
}

/// The movements and knocks of one filling of the tank.
pub(super) struct Moves<'a> {
    moves: Vec<&'a Event>,
    knocks: Vec<&'a Event>,
    full: Time,
    draining: Time,
    /// The time from the start of the session at which the step's clock shows 0:00.
    pub(super) zero: Time,
    vessel: Vessel,
}

impl<'a> Moves<'a> {
    pub(super) fn of(events: &'a [Event], zero: Time, vessel: Vessel) -> Moves<'a> {
        let of = |action: Action| events.iter().filter(move |event| event.action == action);
        let full = events.iter().find(|event| event.is_filling());
        let draining = events.iter().rfind(|event| event.is_emptying());
        Moves {
            moves: of(Action::Agitate).collect(),
            knocks: of(Action::Knock).collect(),
            full: full.map_or(Time::ZERO, end),
            draining: draining.map_or(Time::ZERO, |drain| drain.at),
            zero,
            vessel,
        }
    }

    pub(super) fn first(&self) -> Option<&'a Event> {
        self.moves.first().copied()
    }

    /// All movements in words: `10 s, then 5 s every 30 s from 1:00 to 3:30`; `None` if there are none.
    pub(super) fn text(&self) -> Option<String> {
        let first = self.first()?;
        let plain = self.moves.iter().find(|event| event.count.is_none()).copied().unwrap_or(first);
        let usual = plain.count.is_some() && plain.by == Some("inversion");
        let by = prefixed(", by ", plain.by.filter(|by| !usual && *by != "rotary"));
        // Here the motion follows the amount directly, and does not come last: `10 s, by rocking, then leave it still`.
        let then_still = |only: &Event| format!("{}{by}, then {STILL}", amount(only));
        let mut text = match self.moves.as_slice() {
            [only] if only.by == Some("rotary") => {
                let turns = only.count.map(|turns| format!("turning at {turns} rpm, "));
                turns.unwrap_or_default() + UNBROKEN
            }
            [only] if only.at == self.full && end(only) == self.draining && only.count.is_none() => {
                UNBROKEN.to_owned()
            }
            [only] if end(only) == self.draining => amount(only),
            [only] => then_still(only),
            moves => self.rhythm(moves),
        };
        let counted = self.moves.iter().filter(|event| event.by != Some("rotary"));
        let each = counted.filter_map(|event| Some(event.length.ms / i64::from(event.count?.max(1)))).next();
        text.extend(each.map(|ms| format!(", {} each", spoken(Time::from_ms(ms)))));
        if !by.is_empty() && !text.contains(by.as_str()) {
            text.push_str(&by);
        }
        text.extend(self.knocking().map(|words| format!("; {words}")));
        Some(text)
    }

    /// The movements after the first, in groups of equal length and count; `None` if there are none.
    pub(super) fn repeated(&self) -> Option<Vec<&[&'a Event]>> {
        let (_, rest) = self.moves.split_first()?;
        let is_alike = |one: &&Event, next: &&Event| (one.length, one.count) == (next.length, next.count);
        (!rest.is_empty()).then(|| rest.chunk_by(is_alike).collect())
    }

    /// Two texts: the motion, such as `by rocking`, unless it is inversion or rotary; and the time of one inversion,
    /// `5 s an inversion`, if the recipe counts inversions.
    pub(super) fn manner(&self) -> (Option<String>, Option<String>) {
        let first = self.moves.first();
        let by = first.and_then(|event| event.by).filter(|by| !["rotary", "inversion"].contains(by));
        let counted = first.filter(|event| event.by != Some("rotary"));
        let each = counted.and_then(|event| Some(event.length.ms / i64::from(event.count?.max(1))));
        (
            by.map(|by| format!("by {by}")),
            each.map(|ms| format!("{} an inversion", spoken(Time::from_ms(ms)))),
        )
    }

    /// The movements and knocks of one change of wash water in words, without the draining; `None` if nothing moves.
    pub(super) fn within_a_change(&self) -> Option<String> {
        let first = self.first()?;
        let from = self.reads(first.at);
        let to_the_end = self.moves.len() == 1 && end(first) == self.draining;
        let mut text = match (first.count, first.by) {
            (Some(_), Some("inversion")) if to_the_end => format!("{} from {from}", amount(first)),
            _ => format!("agitate from {from}: {}", self.text()?),
        };
        let single = self.knocks.iter().filter(|_| self.knocking().is_none());
        let what = self.vessel.word();
        text.extend(single.map(|knock| format!("; knock the {what} at {}", self.reads(knock.at))));
        Some(text)
    }

    /// The words for knocks that follow the movements one by one: `knock the tank after each`. `None` for other knocks,
    /// and for fewer than two.
    pub(super) fn knocking(&self) -> Option<String> {
        let follows = |(moved, knock): (&&Event, &&Event)| end(moved) == knock.at;
        let in_turn = self.moves.iter().zip(&self.knocks).all(follows);
        match (self.moves.len(), self.knocks.len()) {
            (_, 0 | 1) => None,
            (moves, knocks) if moves == knocks && in_turn => {
                Some(format!("knock the {} after each", self.vessel.word()))
            }
            (moves, knocks) if moves == knocks + 1 && in_turn => {
                Some(format!("knock the {} after each but the last", self.vessel.word()))
            }
            _ => None,
        }
    }

    fn reads(&self, at: Time) -> String {
        phrase::between(self.zero, at)
    }

    /// Several movements in words. A movement outside a rhythm is written with its own time.
    fn rhythm(&self, moves: &[&Event]) -> String {
        let mut parts = Vec::new();
        for run in runs(moves) {
            let Some((first, rest)) = run.split_first() else { continue };
            let is_rhythm = run.len() >= RHYTHM && steady(run) == run.len();
            if let Some((next, last)) = rest.first().zip(rest.last()).filter(|_| is_rhythm) {
                let period = spoken(next.at - first.at);
                let (from, to) = (self.reads(first.at), self.reads(last.at));
                parts.push(format!("{} every {period} from {from} to {to}", amount(first)));
                continue;
            }
            // The first movement needs no time here: its line on the card begins with the time.
            let opens = parts.is_empty();
            if opens {
                parts.push(amount(first));
            }
            let times = run.iter().skip(usize::from(opens)).map(|event| self.reads(event.at));
            let times = listed(&times.collect::<Vec<_>>());
            parts.extend(times.map(|times| format!("{} at {times}", amount(first))));
        }
        parts.join(", then ")
    }
}

/// The agitation of a step in words. `None` if the recipe does not state it, or if the tank is filled several times.
pub(super) fn agitation(schedule: &Schedule, step: &PlannedStep) -> Option<String> {
    step.bath.as_ref().filter(|bath| bath.pours <= 1)?;
    let text = Moves::of(&step.events, phrase::zero(schedule, step), Vessel::of(schedule)).text();
    text.or_else(|| phrase::written(schedule, step)?.agitation.as_ref().map(|_| STILL.to_owned()))
}

fn end(event: &Event) -> Time {
    event.at + event.length
}

/// The number of inversions of a movement, or else its length: `5 inversions`, `30 s`.
pub(super) fn amount(event: &Event) -> String {
    match event.count {
        Some(count) => phrase::count(count, "inversion"),
        None => spoken(event.length),
    }
}

/// The time from one movement to the next; `None` if there are fewer than three, or if the intervals differ.
pub(super) fn period(moves: &[&Event]) -> Option<Time> {
    let [one, next, _, ..] = moves else { return None };
    (steady(moves) == moves.len()).then(|| next.at - one.at)
}

/// Splits the movements into runs of equal length and count. A new run also begins where equal intervals begin or end.
fn runs<'a, 'e>(moves: &'a [&'e Event]) -> Vec<&'a [&'e Event]> {
    let alike = |one: &&Event, next: &&Event| (one.length, one.count) == (next.length, next.count);
    let mut runs = Vec::new();
    for mut rest in moves.chunk_by(alike) {
        while !rest.is_empty() {
            let begins = |at: &usize| rest.get(*at..).is_some_and(|rest| steady(rest) >= RHYTHM);
            let length = match (0..rest.len()).find(begins) {
                Some(0) => steady(rest),
                before => before.unwrap_or(rest.len()),
            };
            let (run, after) = rest.split_at_checked(length).unwrap_or((rest, &[]));
            runs.push(run);
            rest = after;
        }
    }
    runs
}

/// How many movements, counted from the first, follow each other at equal intervals.
fn steady(moves: &[&Event]) -> usize {
    let mut distances = moves.iter().zip(moves.iter().skip(1)).map(|(one, next)| next.at - one.at);
    match distances.next() {
        Some(first) => 2 + distances.take_while(|distance| *distance == first).count(),
        None => moves.len(),
    }
}

fn listed(times: &[String]) -> Option<String> {
    let (last, before) = times.split_last()?;
    Some(if before.is_empty() { last.clone() } else { format!("{} and {last}", before.join(", ")) })
}
