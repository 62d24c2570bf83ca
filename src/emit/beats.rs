//! Divides a session into beats for the person at the sink. A beat has one word, such as `POUR`, the bath or the
//! movement, and its length. The HTML page and the sound track follow the beats.

use super::moments::{self, STILL};
use super::phrase;
use super::plain::{joined, plain, prefixed};
use super::sound::Signal;
use super::vessel::{Vessel, dried};
use crate::compile::{Action, Event, PlannedStep, Schedule, spoken};
use crate::model::{StepKind, Time};

/// A warning sounds this long before a bath goes in or comes out, so that hands are free by then. Common practice, no
/// source.
pub(super) const AHEAD: Time = Time::from_seconds(10);

/// What a person does during a [`Beat`]. The HTML page shows this word, and each word has a sound signal.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Word {
    Pour,
    Lower,
    Lift,
    Coat,
    Agitate,
    Rest,
    Drain,
    Lamp,
    Hang,
    Wait,
}

impl Word {
    pub(super) fn text(self) -> &'static str {
        match self {
            Word::Pour => "POUR",
            Word::Lower => "LOWER",
            Word::Lift => "LIFT",
            Word::Coat => "COAT",
            Word::Agitate => "AGITATE",
            Word::Rest => "REST",
            Word::Drain => "DRAIN",
            Word::Lamp => "LAMP",
            Word::Hang => "HANG",
            Word::Wait => "WAIT",
        }
    }

    fn of(action: Action) -> Word {
        match action {
            Action::Pour | Action::Fill => Word::Pour,
            Action::Lower => Word::Lower,
            Action::Lift => Word::Lift,
            Action::Coat => Word::Coat,
            Action::Agitate => Word::Agitate,
            Action::Knock => Word::Rest,
            Action::Drain | Action::Dump => Word::Drain,
            Action::Expose => Word::Lamp,
            Action::Dry => Word::Hang,
            Action::Handle | Action::Mix | Action::Rest | Action::Warm => Word::Wait,
        }
    }

    /// Whether a bath is poured or drained, or the material goes into or out of its bath. All of these need both hands.
    pub(super) fn moves_a_bath(self) -> bool {
        self.is_filling() || matches!(self, Word::Drain | Word::Lift)
    }

    /// Whether a bath is poured, or the material is lowered into its bath.
    pub(super) fn is_filling(self) -> bool {
        matches!(self, Word::Pour | Word::Lower)
    }
}

/// A stretch of the session in which a person does one thing. The beats of a session follow each other without gaps.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Beat {
    /// When the beat starts, counted from the start of the first step. Earlier steps that a person ends at a sign count
    /// with their longest time.
    pub(super) at: Time,
    pub(super) until: Time,
    pub(super) step: usize,
    pub(super) word: Word,
    /// The amount or the duration that the beat shows: `2500 ml`, `10 s`; empty if it shows neither.
    pub(super) amount: String,
    /// The bath or the movement of the beat in few words: `DEVELOPER`, `by inversion`.
    pub(super) what: String,
    /// The details of the beat on one line: `Citric stop 1+3, bottle stop-a`.
    pub(super) below: String,
    /// Whether to knock the vessel at the end of this movement.
    pub(super) is_knocked: bool,
    /// The signal at the start of the beat; `None` if the next beat begins at the same moment and its signal sounds
    /// instead.
    pub(super) signal: Option<Signal>,
    /// Whether a warning sounds [`AHEAD`] before the beat.
    pub(super) is_warned: bool,
    /// The length of one inversion of an agitation; `None` if inversions are not counted.
    pub(super) each: Option<Time>,
}

pub(super) fn beats(schedule: &Schedule) -> Vec<Beat> {
    let mut all: Vec<Beat> = Vec::new();
    // The words for actions that take no time, such as mixing. The next beat shows them.
    let mut said: Vec<String> = Vec::new();
    for (at, step) in schedule.steps.iter().enumerate() {
        let mut now = step.start;
        for event in &step.events {
            if event.at > now {
                all.push(resting(schedule, at, now, event.at).saying(&mut said));
            }
            now = event.at + event.length;
            let words = || moments::words(schedule, step, event);
            match (event.action, all.last_mut()) {
                // A knock becomes part of the movement before it, not a beat of its own.
                (Action::Knock, Some(last)) if last.word == Word::Agitate && last.until == event.at => {
                    last.is_knocked = true;
                    last.below = format!("then {}", words());
                }
                (Action::Knock | Action::Mix, _) if event.length == Time::ZERO => said.push(words()),
                _ => all.push(beat(schedule, at, step, event).saying(&mut said)),
            }
        }
        if step.end > now {
            all.push(resting(schedule, at, now, step.end).saying(&mut said));
        }
    }
    set_signals(&mut all);
    all
}

impl Beat {
    /// Puts the words `said` before the text `below` of the beat, and empties `said`.
    fn saying(mut self, said: &mut Vec<String>) -> Beat {
        if !said.is_empty() {
            said.extend(Some(self.below).filter(|own| !own.is_empty()));
            self.below = joined(std::mem::take(said), ", then ");
        }
        self
    }
}

/// Sets the warnings and signals. A bath that goes in or comes out has no warning in the first [`AHEAD`] of the
/// session, nor so soon after the previous bath. If a bath leaves without taking time and the next goes in at the same
/// moment, only the second has a signal.
fn set_signals(all: &mut [Beat]) {
    let mut before = Time::ZERO;
    for beat in all.iter_mut().filter(|beat| beat.word.moves_a_bath()) {
        beat.is_warned = beat.at - before >= AHEAD;
        before = beat.at;
    }
    let mut later: Option<Time> = None;
    for beat in all.iter_mut().rev() {
        if beat.until == beat.at && later == Some(beat.at) && beat.word.moves_a_bath() {
            beat.signal = None;
        }
        later = Some(beat.at).filter(|_| beat.word.moves_a_bath());
    }
}

fn resting(schedule: &Schedule, step: usize, at: Time, until: Time) -> Beat {
    let is_wet = schedule.steps.get(step).is_some_and(|step| step.bath.is_some());
    let (word, below) = if is_wet { (Word::Rest, STILL) } else { (Word::Wait, Vessel::of(schedule).waits()) };
    Beat {
        at,
        until,
        step,
        word,
        amount: String::new(),
        what: String::new(),
        below: below.to_owned(),
        is_knocked: false,
        signal: Some(Signal::of(word)),
        is_warned: false,
        each: None,
    }
}

fn beat(schedule: &Schedule, at: usize, step: &PlannedStep, event: &Event) -> Beat {
    let word = Word::of(event.action);
    let (amount, what, below) = match word {
        Word::Pour | Word::Coat => (volume(step), noun(step), from(step)),
        Word::Lower => (String::new(), noun(step), from(step)),
        Word::Drain => (String::new(), String::new(), phrase::out_to(schedule, step).unwrap_or_default()),
        Word::Agitate => agitated(event),
        Word::Lamp => {
            let light = step.light.as_deref().map(plain).unwrap_or_default();
            (spoken(event.length), "dry hands".to_owned(), light)
        }
        Word::Hang => {
            let order = prefixed("; ", super::card::hanging(schedule));
            (String::new(), String::new(), format!("{}{order}", dried(schedule)))
        }
        Word::Lift => (String::new(), "let it drip".to_owned(), String::new()),
        Word::Rest | Word::Wait => (String::new(), String::new(), moments::words(schedule, step, event)),
    };
    Beat {
        at: event.at,
        until: event.at + event.length,
        step: at,
        word,
        amount,
        what,
        below,
        is_knocked: false,
        signal: Some(Signal::of(word)),
        is_warned: false,
        each: turn(event),
    }
}

fn volume(step: &PlannedStep) -> String {
    step.bath.as_ref().map(|bath| phrase::ml(bath.volume)).unwrap_or_default()
}

/// A short name for the bath, and the step's name if it has one: `FIXER`, `DEVELOPER second`.
pub(super) fn noun(step: &PlannedStep) -> String {
    let is_water = step.bath.as_ref().is_none_or(|bath| bath.dilution.is_none());
    let word = match step.kind {
        _ if is_water => "WATER",
        StepKind::Develop => "DEVELOPER",
        StepKind::Fix => "FIXER",
        StepKind::Tone => "TONER",
        StepKind::Clear => "CLEARING BATH",
        StepKind::Coat => "SENSITISER",
        kind => return phrase::head(step).replacen(kind.word(), &kind.word().to_uppercase(), 1),
    };
    word.to_owned() + &prefixed(" ", step.name.as_deref().map(plain).filter(|_| !is_water))
}

pub(super) fn from(step: &PlannedStep) -> String {
    let Some(bath) = &step.bath else { return String::new() };
    let bottle = bath.bottle.as_ref().map(|bottle| plain(&bottle.name));
    let running = phrase::running(bath).map_or("", |_| "running ");
    format!("{running}{}{}", phrase::bath(bath), prefixed(", bottle ", bottle))
}

fn turn(event: &Event) -> Option<Time> {
    let count = event.count.filter(|_| event.action == Action::Agitate && event.by != Some("rotary"))?;
    Some(Time::from_ms(event.length.ms / i64::from(count.max(1))))
}

fn agitated(event: &Event) -> (String, String, String) {
    let by = prefixed("by ", event.by.filter(|by| *by != "rotary"));
    let (amount, what) = match (event.by, event.count) {
        (Some("rotary"), Some(turns)) => (spoken(event.length), format!("at {turns} rpm")),
        (Some("rotary"), None) => (spoken(event.length), "turning".to_owned()),
        (_, Some(count)) => (phrase::count(count, "turn"), by),
        (_, None) => (spoken(event.length), by),
    };
    (amount, what, String::new())
}
