//! What a person says while a session is followed, each with the time of the clock. These presses in their order are
//! the whole state of the session. Undo drops the last press; an interrupted session is restored from its presses.

use serde_json::{Value, json};

use crate::compile::Schedule;
use crate::emit::phrase;
use crate::model::{Temperature, Time};

/// What a person tells the program during a session.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Said {
    /// The session starts. The first pour begins after the count-in.
    Start,
    /// The bath of the step with this index goes in now, or the lamp of that step is on.
    In(usize),
    /// The bath in the tank went in this much later than the screen says.
    Behind(Time),
    /// The session goes to this time of the schedule.
    At(Time),
    /// The bath that was taken out too early is back in.
    BackIn,
    /// The agitation on the screen is put off.
    NotNow,
    /// The person sees the sign that ends the step, such as `no yellow is left`.
    Seen,
    /// The person has read this temperature in the bath.
    Read(Temperature),
    /// The film hangs to dry.
    Hung,
}

/// What a person said, and when.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Press {
    /// The time that the clock showed.
    pub clock: Time,
    /// What the person said.
    pub said: Said,
}

impl Press {
    /// The press in words, for the list of presses that can be undone: `it went in now: STOP`.
    pub fn words(&self, schedule: &Schedule) -> String {
        match self.said {
            Said::Start => "start".to_owned(),
            Said::In(step) => {
                let name = schedule.steps.get(step).map(phrase::head).unwrap_or_default();
                format!("it went in now: {name}")
            }
            Said::Behind(by) => format!("behind by {by}"),
            Said::At(at) => {
                let step = schedule.steps.iter().rfind(|step| step.start <= at);
                format!("go to {}", step.map(phrase::head).unwrap_or_default())
            }
            Said::BackIn => "it is back in".to_owned(),
            Said::NotNow => "not now".to_owned(),
            Said::Seen => "it is done".to_owned(),
            Said::Read(temperature) => format!("read {temperature}"),
            Said::Hung => "the film hangs".to_owned(),
        }
    }

    /// The press as JSON for the disk: the clock time in milliseconds, a word, and a number or null.
    pub fn to_json(self) -> Value {
        let (word, value) = match self.said {
            Said::Start => ("start", None),
            Said::In(step) => ("in", i64::try_from(step).ok()),
            Said::Behind(by) => ("behind", Some(by.ms)),
            Said::At(at) => ("at", Some(at.ms)),
            Said::BackIn => ("back-in", None),
            Said::NotNow => ("not-now", None),
            Said::Seen => ("done", None),
            Said::Read(temperature) => ("read", Some(temperature.base)),
            Said::Hung => ("hung", None),
        };
        json!([self.clock.ms, word, value])
    }

    /// The press from the JSON of [`Press::to_json`]; `None` if the value is no press.
    pub fn from_json(value: &Value) -> Option<Press> {
        let [clock, word, value] = value.as_array()?.as_slice() else { return None };
        let number = value.as_i64();
        let said = match word.as_str()? {
            "start" => Said::Start,
            "in" => Said::In(usize::try_from(number?).ok()?),
            "behind" => Said::Behind(Time::from_ms(number?)),
            "at" => Said::At(Time::from_ms(number?)),
            "back-in" => Said::BackIn,
            "not-now" => Said::NotNow,
            "done" => Said::Seen,
            "read" => Said::Read(Temperature { base: number? }),
            "hung" => Said::Hung,
            _ => return None,
        };
        Some(Press { clock: Time::from_ms(clock.as_i64()?), said })
    }
}
