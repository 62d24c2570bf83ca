//! A session that a person follows in a terminal: its state, what each key does, and when the bell rings. The caller
//! passes the time of the clock to each function, so that small errors of timing do not add up.

mod choice;
mod frame;
mod late;
mod legs;
mod notices;
mod now;
mod said;
mod says;
mod tank;

use std::sync::Arc;

use sha2::{Digest, Sha256};

use crate::compile::{Scale, Schedule};
use crate::model::{Temperature, Time};

use self::choice::Choice;
use self::notices::notices_as_lines;
use self::tank::{Stays, Tank};
use super::card::Card;
use super::document::StepText;
use super::moments::{Moment, moments};
use super::plain::{plain, prefixed};
use super::{phrase, signs};
pub(super) use late::{LONGER, LONGEST, SHORTER, parts};

pub use frame::{Row, Shade, Size};
pub use late::Took;
pub use now::{Hold, Now};
pub use said::{Press, Said};

/// The bell rings this long before a bath goes in or comes out, so that hands are free. Common practice, no source.
const AHEAD: Time = Time::from_seconds(10);
const INSTANT: Time = Time::from_ms(1);
/// How long a message stays on the screen.
const MESSAGE: Time = Time::from_seconds(10);

/// A session that a person follows in a terminal.
#[derive(Debug, Clone)]
pub struct Live {
    card: Card,
    base: Arc<Schedule>,
    from: Time,
    /// What a person has said, the oldest first.
    history: Vec<Press>,
    /// The state of the session after all presses in `history`.
    tank: Tank,
    /// The index of the page of cautions on the screen; `None` while the screen shows the work.
    reading: Option<usize>,
    /// The time in the schedule and the clock time up to which bells have rung.
    rung: (Time, Time),
    /// How long a key has been held, in hundredths of the time for which it must be held; 0 if no key is held.
    holding: usize,
    /// An answer to the last key, and the clock time until which it is shown.
    message: Option<(String, Time)>,
    /// A question on the screen, in place of the row that lists the keys.
    prompt: Option<String>,
    /// The list of steps, if it is open.
    choice: Option<Choice>,
    /// The time of day when the clock shows zero.
    midnight: Time,
}

impl Live {
    /// A session that waits at the time `from` of the schedule and shows the first page of cautions. `card` must be
    /// made from `schedule`.
    pub fn new(schedule: &Schedule, card: &Card, from: Time) -> Live {
        let base = Arc::new(schedule.clone());
        Live {
            card: card.clone(),
            tank: Tank::new(&base, from),
            base,
            from,
            history: Vec::new(),
            reading: Some(0),
            rung: (from - INSTANT, Time::ZERO),
            holding: 0,
            message: None,
            prompt: None,
            choice: None,
            midnight: Time::ZERO,
        }
    }

    /// The time in the schedule when the clock shows `clock`.
    pub fn at(&self, clock: Time) -> Time {
        self.tank.at(clock)
    }

    /// What the screen says when the clock shows `clock`.
    pub fn state(&self, clock: Time) -> Now {
        self.tank.state(clock)
    }

    /// Applies what a person says at this clock time. Returns `false` if what they say makes no sense then.
    pub fn say(&mut self, said: Said, clock: Time) -> bool {
        let mut after = self.tank.clone();
        if !after.say(said, clock) {
            return false;
        }
        self.tank = after;
        self.history.push(Press { clock, said });
        let at = self.tank.at(clock);
        let rung = match said {
            Said::Start | Said::At(_) => at - INSTANT,
            Said::Seen => self.rung.0.min(at - INSTANT),
            _ => at,
        };
        self.rung = (rung, clock);
        true
    }

    /// Undoes what the person said last, and returns it.
    pub fn undo(&mut self, clock: Time) -> Option<Press> {
        let last = self.history.pop()?;
        self.replay(clock);
        Some(last)
    }

    /// Everything that the person said, in order.
    pub fn history(&self) -> &[Press] {
        &self.history
    }

    /// Sets the session to the state after these presses. Presses that make no sense in the session are left out.
    pub fn restore(&mut self, history: &[Press], clock: Time) {
        self.history = history.to_vec();
        self.replay(clock);
    }

    fn replay(&mut self, clock: Time) {
        self.tank = Tank::new(&self.base, self.from);
        let tank = &mut self.tank;
        self.history.retain(|press| tank.say(press.said, press.clock));
        self.rung = (self.tank.at(clock), clock);
    }

    /// Handles a key that was held: it confirms what the screen asks for, such as that a bath went in. Returns `false`
    /// if the screen asks for nothing.
    pub fn confirm(&mut self, clock: Time) -> bool {
        let said = match self.state(clock).hold {
            None => return false,
            Some(Hold::Start) => Said::Start,
            Some(Hold::In(step) | Hold::Lamp(step)) => Said::In(step),
            Some(Hold::NotNow) => Said::NotNow,
            Some(Hold::Done) => Said::Seen,
            Some(Hold::Hung) => Said::Hung,
        };
        self.say(said, clock)
    }

    /// What holding a key confirms now: `STOP went in now`. `None` if there is nothing to confirm.
    pub fn asks(&self, clock: Time) -> Option<String> {
        let now = self.state(clock);
        Some(match now.hold? {
            Hold::Start => "start".to_owned(),
            Hold::In(step) => format!("{} went in now", self.base.steps.get(step).map(phrase::head)?),
            Hold::NotNow => "not now".to_owned(),
            Hold::Done => self.tank.sign(clock)?,
            Hold::Lamp(_) => "the lamp is on".to_owned(),
            Hold::Hung => "the film hangs".to_owned(),
        })
    }

    /// Goes to the start of the previous instruction.
    pub fn back(&mut self, clock: Time) -> bool {
        let at = self.at(clock);
        let before = self.index(at).saturating_sub(if at < self.tank.end { 1 } else { 0 });
        let to = self.tank.moments.get(before).map_or(Time::ZERO, |moment| moment.at);
        self.say(Said::At(to), clock)
    }

    /// Goes to the start of the next instruction; after the last one, to the end.
    pub fn next(&mut self, clock: Time) -> bool {
        let next = self.tank.moments.get(self.index(self.at(clock)) + 1);
        let to = next.map_or(self.tank.end, |moment| moment.at);
        self.say(Said::At(to), clock)
    }

    /// Shows the pages of warnings and cautions. The session goes on meanwhile.
    pub fn read_cautions(&mut self) {
        self.reading = Some(0);
    }

    /// Whether the session has been started.
    pub fn is_started(&self) -> bool {
        self.tank.origin.is_some()
    }

    /// Whether the session is over.
    pub fn is_over(&self, clock: Time) -> bool {
        self.tank.end <= self.at(clock)
    }

    /// The real times of the steps that were longer or shorter than planned, and of those that a person ended at a
    /// sign.
    pub fn took(&self, clock: Time) -> Vec<Took> {
        self.tank.took(clock)
    }

    /// The temperatures that a person read. Each is a line of a recorded session, `develop 3:10 22.1 C`, and an option
    /// on the command line, `develop=3:10=22.1C`.
    pub fn read_temperatures(&self) -> Vec<(String, String)> {
        let words = |read: &tank::ReadIn| {
            let step = phrase::called(self.base.steps.get(read.step)?);
            let (at, temperature) = (read.reading.at, self.written(read.reading.temperature));
            let option = format!("{}={at}={}", step.replace(' ', "-"), temperature.replace(' ', ""));
            Some((format!("{step} {at} {temperature}"), option))
        };
        self.tank.readings.iter().filter_map(words).collect()
    }

    fn written(&self, temperature: Temperature) -> String {
        match self.base.conditions.scale {
            Scale::Celsius => temperature.to_string(),
            Scale::Fahrenheit => format!("{} F", temperature.in_fahrenheit(3)),
        }
    }

    /// A press in words: `it went in now: STOP`.
    pub fn words(&self, press: Press) -> String {
        press.words(&self.base)
    }

    /// The key under which the progress of the session is stored. Sessions with different cards, scheduled times or
    /// starting points have different keys.
    pub fn key(&self) -> String {
        let moments = moments(&self.base).into_iter().map(|it| (it.at.ms, it.until.ms, it.step, it.what));
        let parts = serde_json::json!([
            self.card.fingerprint,
            self.card.facts,
            moments.collect::<Vec<_>>(),
            self.from.ms
        ]);
        let hash = Sha256::digest(parts.to_string().as_bytes());
        hash.iter().take(8).map(|byte| format!("{byte:02x}")).collect()
    }

    /// What the last temperature reading changed, in words: `develop 8:39 → 8:24, from 3:10 on`.
    pub fn last_reading(&self) -> Option<String> {
        let read = self.tank.readings.last()?;
        let (at, step) = (read.reading.at, phrase::called(self.base.steps.get(read.step)?));
        Some(match read.result {
            Ok((before, after)) => format!("{step} {before} \u{2192} {after}, from {at} on"),
            Err(Stays::Small) => format!("{step}: under 5 %, nothing changes"),
            Err(Stays::Fixed) => format!("{step}: its time does not depend on the temperature"),
            Err(Stays::Outside) => format!("{step}: outside its chart, nothing changes"),
        })
    }

    /// Shows how long a key has been held, in hundredths of the time for which it must be held; 0 if it is not held.
    pub fn hold(&mut self, hundredths: usize) {
        self.holding = hundredths.min(100);
    }

    /// Shows a message for ten seconds.
    pub fn tell(&mut self, text: &str, clock: Time) {
        self.message = Some((plain(text), clock + MESSAGE));
    }

    /// Shows a question in place of the row that lists the keys; `None` shows that row again.
    pub fn ask(&mut self, prompt: Option<String>) {
        self.prompt = prompt;
    }

    /// Sets the time of day at which the clock shows zero. The screen shows times of day.
    pub fn set_midnight(&mut self, midnight: Time) {
        self.midnight = midnight;
    }

    /// The time of day at a clock time: `20:41:07`.
    pub fn day_time(&self, clock: Time) -> String {
        let seconds = ((clock + self.midnight).ms / 1000).rem_euclid(86_400);
        format!("{:02}:{:02}:{:02}", seconds / 3600, seconds / 60 % 60, seconds % 60)
    }

    /// The line that says whether the lid may come off, if a step allows light: `LID ON   fixer in 0:48 of 2:00`.
    pub fn lid(&self, clock: Time) -> Option<String> {
        let at = self.at(clock);
        // While the session waits for a lamp, the light before that lamp is still on.
        let waits = matches!(self.state(clock).hold, Some(Hold::Lamp(_)));
        let at = if waits { at - INSTANT } else { at };
        self.tank.lid.as_ref().map(|lid| lid.line(self.tank.soaked(clock), at))
    }

    /// A line about the previous bath, once the next one is in, or about a bath that has been in for too long.
    pub fn said(&self, clock: Time) -> Option<String> {
        self.tank.said(clock)
    }

    /// Whether the bell rings now: at an action, when to look for a sign, and ten seconds before a bath goes in or
    /// comes out. Each bell rings once.
    pub fn rings(&mut self, clock: Time) -> bool {
        if !self.is_started() || self.tank.count_in(clock).is_some() {
            return false;
        }
        let now = self.at(clock);
        let (rung, before) = std::mem::replace(&mut self.rung, (now, clock));
        let due = |bell: Time| rung < bell && bell <= now;
        self.tank.looks(before, clock)
            || self.tank.moments.iter().any(|moment| {
                let acts = !moment.actions.is_empty();
                acts && due(moment.at)
                    || moment.actions.iter().any(|action| action.moves_a_bath()) && due(moment.at - AHEAD)
            })
    }

    /// The pages of warnings and cautions as lines.
    pub fn cautions(&self) -> Vec<String> {
        notices_as_lines(&self.card)
    }

    /// The session as lines with their times, for output without a terminal. `from` is the time in the schedule of the
    /// first line. Each step begins with its name and notes.
    pub fn lines(&self, from: Time) -> Vec<(Time, String)> {
        let mut lines = Vec::new();
        // Without a terminal nobody can confirm a pour, so the line about the lid is written once.
        let mut lid = self.lid(from);
        let mut step = None;
        for moment in self.tank.moments.iter().filter(|moment| moment.at >= from) {
            let block = self.card.work.get(moment.step).filter(|_| step != Some(moment.step));
            step = Some(moment.step);
            if let Some(StepText { name, time, bath, notes, .. }) = block {
                let bath = prefixed("  ", bath.as_ref());
                lines.push((moment.at, format!("{name} {time}{bath}")));
                lines.extend(notes.iter().map(|note| (moment.at, beside("note:", note))));
                let decision = self.base.steps.get(moment.step).and_then(|step| step.decision.as_ref());
                lines.extend(decision.map(|it| (moment.at, beside("", &signs::in_one(it)))));
                lines.extend(lid.take().map(|lid| (moment.at, beside("", &lid))));
            }
            lines.push((moment.at, beside(&moment.at.to_string(), &moment.what)));
        }
        let end = self.tank.end;
        lines.push((end, beside(&end.to_string(), DONE)));
        lines
    }

    fn index(&self, at: Time) -> usize {
        self.tank.moments.partition_point(|moment| moment.at <= at).saturating_sub(1)
    }

    fn moment(&self, at: Time) -> Option<&Moment> {
        self.tank.moments.get(self.index(at))
    }
}

const DONE: &str = "done";

/// The text after a label, padded to the width of `12:34:56.5` so that texts align.
fn beside(label: &str, what: &str) -> String {
    format!("{label:>10}  {what}")
}
