//! The evening as a calendar, RFC 5545: an event a step, with an alarm at each pour and each drain. Its
//! times are those of the clock on the wall, without a zone, and nothing in it comes from the machine.

use crate::compile::{PlannedStep, Schedule};
use crate::model::{Date, Time};

use super::moments::{Moment, moments};
use super::naming;
use super::plain::plain;

/// A line is at most so long, in bytes and without its end (RFC 5545, 3.1).
const LINE_MAX: usize = 75;

/// The calendar of an evening whose first step begins on that day, so many seconds after midnight; `None` if it goes on
/// past the last day there is. It counts in whole seconds: what
/// begins within one is told at its beginning, never late.
#[must_use]
pub fn ics(schedule: &Schedule, day: Date, start: u32) -> Option<String> {
    let all = moments(schedule);
    let mut calendar = Calendar { text: String::new(), day, start };
    calendar.line("BEGIN", "VCALENDAR");
    calendar.line("VERSION", "2.0");
    calendar.line("PRODID", "-//wetside//card//EN");
    for (at, step) in schedule.steps.iter().enumerate() {
        let own: Vec<&Moment> = all.iter().filter(|moment| moment.step == at).collect();
        calendar.event(schedule, (at, step), &own)?;
    }
    calendar.line("END", "VCALENDAR");
    Some(calendar.text)
}

struct Calendar {
    text: String,
    day: Date,
    /// The clock on the wall at the start, in seconds after midnight.
    start: u32,
}

impl Calendar {
    fn event(
        &mut self,
        schedule: &Schedule,
        (at, step): (usize, &PlannedStep),
        own: &[&Moment],
    ) -> Option<()> {
        let begins = self.clock(Time::ZERO)?;
        self.line("BEGIN", "VEVENT");
        self.line("UID", &format!("{}-{begins}-{}@wetside", schedule.fingerprint, at + 1));
        // It has to be there and in universal time; the evening's own start is all that is known.
        self.line("DTSTAMP", &format!("{begins}Z"));
        self.line("DTSTART", &self.clock(step.start)?);
        // An end has to be later than its beginning; a step that takes no time has none.
        if seconds(step.end) > seconds(step.start) {
            self.line("DTEND", &self.clock(step.end)?);
        }
        let what = match &step.bath {
            Some(bath) => format!("{}: {}", naming::called(step), naming::bath(bath)),
            None => naming::called(step),
        };
        self.line("SUMMARY", &escaped(&what));
        self.line("DESCRIPTION", &escaped(&description(schedule, own)));
        for moment in own.iter().filter(|moment| moment.actions.iter().any(|action| action.moves_a_bath())) {
            self.line("BEGIN", "VALARM");
            self.line("ACTION", "DISPLAY");
            self.line("DESCRIPTION", &escaped(&moment.what));
            self.line("TRIGGER", &format!("PT{}S", seconds(moment.at) - seconds(step.start)));
            self.line("END", "VALARM");
        }
        self.line("END", "VEVENT");
        Some(())
    }

    /// What the clock on the wall shows, in the form of a calendar.
    fn clock(&self, moment: Time) -> Option<String> {
        self.day.clock(i64::from(self.start) + seconds(moment))
    }

    /// One property, on as many lines as it takes; a line goes on behind a space.
    fn line(&mut self, name: &str, value: &str) {
        let mut room = LINE_MAX;
        for letter in name.chars().chain([':']).chain(value.chars()) {
            if room < letter.len_utf8() {
                self.text.push_str("\r\n ");
                room = LINE_MAX - 1;
            }
            self.text.push(letter);
            room -= letter.len_utf8();
        }
        self.text.push_str("\r\n");
    }
}

/// The recipe, and the work of the step by the evening's clock.
fn description(schedule: &Schedule, own: &[&Moment]) -> String {
    let title = plain(&schedule.recipe.title);
    let mut said = format!("{title}, recipe {}", schedule.fingerprint);
    for moment in own.iter().filter(|moment| !moment.actions.is_empty()) {
        said.push_str(&format!("\n{} {}", moment.at, moment.what));
    }
    said
}

fn seconds(time: Time) -> i64 {
    time.ms.div_euclid(1000)
}

/// Words as a value: nothing in them can end it, or begin another property (RFC 5545, 3.3.11).
fn escaped(words: &str) -> String {
    let mut value = String::new();
    for letter in words.chars() {
        match letter {
            '\n' => value.push_str("\\n"),
            '\\' | ';' | ',' => value.extend(['\\', letter]),
            letter => value.push(letter),
        }
    }
    value
}
