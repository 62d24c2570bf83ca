//! An evening while it goes on: where it stands at a moment of a clock, what a key does to it, and when to
//! ring. It asks no clock itself: whoever runs it says what the clock shows, so that nothing can drift.

mod cautions;
mod digits;
mod fit;
mod frame;

use crate::compile::Schedule;
use crate::model::Time;

use super::card::Card;
use super::moments::{Moment, moments};
use cautions::Heed;

pub use frame::{Row, Shade, Size};

/// How long before a bath goes in or comes out it rings, so that hands are free by then. Common practice,
/// no source.
const AHEAD: Time = Time::from_seconds(10);
/// The least time there is.
const INSTANT: Time = Time::from_ms(1);

/// A key, by what it means.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Key {
    /// Start, if it stands.
    Start,
    /// Start, or stop for a while.
    Pause,
    /// To the beginning of the moment before.
    Back,
    /// To the beginning of the next moment.
    On,
    /// To the warnings and cautions; what runs goes on.
    Cautions,
}

/// An evening that is followed.
#[derive(Debug, Clone)]
pub struct Live {
    title: String,
    lid: Option<String>,
    /// Warnings and cautions.
    heeds: Vec<Heed>,
    /// The page of these that is shown, from 0; `None` where the evening is.
    reading: Option<usize>,
    legs: Vec<Leg>,
    moments: Vec<Moment>,
    /// The work without drying.
    work: Time,
    end: Time,
    pace: Pace,
    /// Up to where it has rung.
    heard: Time,
}

/// A step, as it is shown.
#[derive(Debug, Clone)]
struct Leg {
    name: String,
    time: String,
    bath: Option<String>,
    notes: Vec<String>,
    start: Time,
    end: Time,
}

#[derive(Debug, Clone, Copy)]
enum Pace {
    /// Not started yet, at this moment of the evening.
    Waiting(Time),
    /// Stopped at this moment of the evening.
    Paused(Time),
    /// Going on; the clock showed this when the evening began, or would have.
    Going(Time),
}

impl Live {
    /// That evening, waiting at that moment of it behind the first page of its warnings and cautions. The card
    /// is the one of the schedule: its words are fit to be shown.
    #[must_use]
    pub fn new(schedule: &Schedule, card: &Card, from: Time) -> Live {
        let legs = schedule.steps.iter().zip(&card.work).map(|(step, block)| Leg {
            name: block.name.clone(),
            time: block.time.clone(),
            bath: block.bath.clone(),
            notes: block.notes.clone(),
            start: step.start,
            end: step.end,
        });
        let moments = moments(schedule);
        let end = moments.last().map_or(Time::ZERO, |last| last.until);
        Live {
            title: card.title.clone(),
            lid: card.lid.clone(),
            heeds: cautions::of(card),
            reading: Some(0),
            legs: legs.collect(),
            moments,
            work: schedule.total,
            end,
            pace: Pace::Waiting(from),
            heard: from - INSTANT,
        }
    }

    /// Which moment of the evening it is when the clock shows this: what the clock shows less its origin, never
    /// a sum of steps.
    #[must_use]
    pub fn at(&self, clock: Time) -> Time {
        match self.pace {
            Pace::Waiting(at) | Pace::Paused(at) => at,
            Pace::Going(origin) => (clock - origin).clamp(Time::ZERO, self.end),
        }
    }

    /// Does what a key asks for.
    pub fn press(&mut self, key: Key, clock: Time) {
        let at = self.at(clock);
        match (key, self.pace) {
            (Key::Start | Key::Pause, Pace::Waiting(_) | Pace::Paused(_)) => {
                self.pace = Pace::Going(clock - at);
            }
            (Key::Start, Pace::Going(_)) => {}
            (Key::Pause, Pace::Going(_)) => self.pace = Pace::Paused(at),
            (Key::Back, _) => {
                let before = self.index(at).saturating_sub(if at < self.end { 1 } else { 0 });
                self.go_to(self.moments.get(before).map_or(Time::ZERO, |moment| moment.at), clock);
            }
            (Key::On, _) => {
                let next = self.moments.get(self.index(at) + 1);
                self.go_to(next.map_or(self.end, |moment| moment.at), clock);
            }
            (Key::Cautions, _) => self.reading = Some(0),
        }
    }

    /// Whether to ring: an action begins, or a bath goes in or comes out ten seconds from now, and it has not
    /// rung for that.
    pub fn rings(&mut self, clock: Time) -> bool {
        let Pace::Going(_) = self.pace else { return false };
        let now = self.at(clock);
        let heard = std::mem::replace(&mut self.heard, now);
        let due = |bell: Time| heard < bell && bell <= now;
        self.moments.iter().any(|moment| {
            let acts = !moment.actions.is_empty();
            acts && due(moment.at)
                || moment.actions.iter().any(|action| action.moves_a_bath()) && due(moment.at - AHEAD)
        })
    }

    /// Warnings and cautions, then all that is done from here on, each with its moment, as lines; a step's name
    /// and its notes stand before its first.
    #[must_use]
    pub fn lines(&self, from: Time) -> Vec<(Time, String)> {
        let mut lines: Vec<(Time, String)> = self.heeds_told().map(|line| (from, line)).collect();
        let mut step = None;
        for moment in self.moments.iter().filter(|moment| moment.at >= from) {
            if step != Some(moment.step) {
                step = Some(moment.step);
                let told = self.legs.get(moment.step).into_iter().flat_map(Leg::told);
                lines.extend(told.map(|line| (moment.at, line)));
            }
            lines.push((moment.at, timed(moment.at, &moment.what)));
        }
        lines.push((self.end, timed(self.end, DONE)));
        lines
    }

    /// The moment of the evening, by its place among all.
    fn index(&self, at: Time) -> usize {
        self.moments.partition_point(|moment| moment.at <= at).saturating_sub(1)
    }

    fn go_to(&mut self, at: Time, clock: Time) {
        self.heard = at - INSTANT;
        self.pace = match self.pace {
            Pace::Waiting(_) => Pace::Waiting(at),
            Pace::Paused(_) => Pace::Paused(at),
            Pace::Going(_) => Pace::Going(clock - at),
        };
    }
}

/// What there is to do when all is done.
const DONE: &str = "done";

impl Leg {
    /// Its name, its time and its bath on one line, and each of its notes on one.
    fn told(&self) -> Vec<String> {
        let head = match &self.bath {
            Some(bath) => format!("{} {}  {bath}", self.name, self.time),
            None => format!("{} {}", self.name, self.time),
        };
        let notes = self.notes.iter().map(|note| format!("{:>10}  {note}", "note:"));
        [head].into_iter().chain(notes).collect()
    }
}

/// Wide enough for `12:34:56.5`, so that the words stand below each other.
fn timed(at: Time, what: &str) -> String {
    format!("{:>10}  {what}", at.to_string())
}
