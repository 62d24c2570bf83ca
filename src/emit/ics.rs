//! The session as a calendar (RFC 5545): an event for each step, an alarm for each pour and drain, in local times
//! without a zone.

use super::moments::{Moment, moments};
use super::phrase;
use super::plain::{joined, plain, prefixed};
use super::signs;
use crate::compile::{PlannedStep, SAFETY_FIRST, Schedule};
use crate::model::{Date, Time};
use crate::plan::Plan;

/// The most bytes of a line, without its line ending (RFC 5545, 3.1).
const LINE_MAX: usize = 75;

/// The calendar of a session that begins on `day`, `start` seconds after midnight. Times are rounded down to a second.
/// `None` if the session ends after the last possible date.
pub fn ics(schedule: &Schedule, day: Date, start: u32) -> Option<String> {
    let all = moments(schedule);
    let mut calendar = Calendar { text: String::new(), day, start };
    calendar.lines(["BEGIN:VCALENDAR", "VERSION:2.0", "PRODID:-//wetside//card//EN"]);
    for (at, step) in schedule.steps.iter().enumerate() {
        let own: Vec<&Moment> = all.iter().filter(|moment| moment.step == at).collect();
        calendar.event(schedule, at, step, &own)?;
    }
    calendar.lines(["END:VCALENDAR"]);
    Some(calendar.text)
}

struct Calendar {
    text: String,
    day: Date,
    /// The start of the session, in seconds after midnight.
    start: u32,
}

impl Calendar {
    fn event(&mut self, schedule: &Schedule, at: usize, step: &PlannedStep, own: &[&Moment]) -> Option<()> {
        let begins = self.clock(Time::ZERO)?;
        let uid = format!("UID:{}-{begins}-{}@wetside", schedule.fingerprint, at + 1);
        // RFC 5545 requires a stamp in universal time. The zone is unknown, so the stamp is the local start.
        let (stamp, start) = (format!("DTSTAMP:{begins}Z"), format!("DTSTART:{}", self.clock(step.start)?));
        self.lines(["BEGIN:VEVENT", &uid, &stamp, &start]);
        // RFC 5545 requires an end after the start, so the event of a step without length states no end.
        if seconds(step.end) > seconds(step.start) {
            self.lines([&format!("DTEND:{}", self.clock(step.end)?)]);
        }
        let what = phrase::called(step) + &prefixed(": ", step.bath.as_ref().map(phrase::bath));
        let first = if at == 0 { prefixed("\n", Some(SAFETY_FIRST)) } else { String::new() };
        let description =
            format!("DESCRIPTION:{}{}", escaped(&description(schedule, step, own)), escaped(&first));
        self.lines([&format!("SUMMARY:{}", escaped(&what)), &description]);
        for moment in own.iter().filter(|moment| moment.actions.iter().any(|action| action.moves_a_bath())) {
            let description = format!("DESCRIPTION:{}", escaped(&moment.what));
            let trigger = format!("TRIGGER:PT{}S", seconds(moment.at) - seconds(step.start));
            self.lines(["BEGIN:VALARM", "ACTION:DISPLAY", &description, &trigger, "END:VALARM"]);
        }
        self.lines(["END:VEVENT"]);
        Some(())
    }

    /// The date and time of day, as in `20261125T193000`; `None` after the last possible date.
    fn clock(&self, moment: Time) -> Option<String> {
        self.day.clock(i64::from(self.start) + seconds(moment))
    }

    /// Adds lines of properties. A long property continues on lines that begin with a space.
    fn lines<const N: usize>(&mut self, properties: [&str; N]) {
        for property in properties {
            let mut left = LINE_MAX;
            for letter in property.chars() {
                if left < letter.len_utf8() {
                    self.text.push_str("\r\n ");
                    left = LINE_MAX - 1;
                }
                self.text.push(letter);
                left -= letter.len_utf8();
            }
            self.text.push_str("\r\n");
        }
    }
}

/// The calendar of a plan: an all-day event for each load.
pub fn plan_ics(plan: &Plan) -> String {
    let day = plan.loads.first().map_or(Date::MAX, |load| load.on);
    let mut calendar = Calendar { text: String::new(), day, start: 0 };
    calendar.lines(["BEGIN:VCALENDAR", "VERSION:2.0", "PRODID:-//wetside//plan//EN"]);
    for (load, number) in plan.loads.iter().zip(1..) {
        let labels = joined(load.rolls.iter().map(|roll| plain(&roll.label)), ", ");
        let Some(begins) = load.on.clock(0) else { continue };
        let date = begins.split('T').next().unwrap_or_default();
        let schedule = &load.schedule;
        let uid = format!("UID:{}-{begins}-load-{number}@wetside", schedule.fingerprint);
        let what = format!("{}, {}", plain(&schedule.recipe.title), phrase::count(load.rolls.len(), "roll"));
        let mixes: String = load.mixes.iter().map(|mix| format!("\nmix {}", super::plan::mix(mix))).collect();
        let bench = phrase::moment(schedule, schedule.total);
        let description = format!(
            "load {number} of {}: {labels}\n{bench} at the bench{mixes}\n{SAFETY_FIRST}",
            plan.loads.len()
        );
        calendar.lines([
            "BEGIN:VEVENT",
            &uid,
            &format!("DTSTAMP:{begins}Z"),
            &format!("DTSTART;VALUE=DATE:{date}"),
            &format!("SUMMARY:{}", escaped(&what)),
            &format!("DESCRIPTION:{}", escaped(&description)),
            "END:VEVENT",
        ]);
    }
    calendar.lines(["END:VCALENDAR"]);
    calendar.text
}

/// The description of a step: the recipe, the warnings about rolls and bottles that `--anyway` names, the sign that
/// ends the step, and its actions. Each action has its time from the start of the session.
fn description(schedule: &Schedule, step: &PlannedStep, own: &[&Moment]) -> String {
    let recipe = format!("{}, recipe {}", plain(&schedule.recipe.title), schedule.fingerprint);
    let anyway = schedule.taken_anyway().map(|warning| format!("\n{}", plain(&warning.text)));
    let sign = step.ended.as_ref().or(step.decision.as_ref());
    let sign = sign.map(|decision| format!("\nyou end it: {}", signs::in_one(decision)));
    let actions = own.iter().filter(|moment| !moment.actions.is_empty());
    [recipe]
        .into_iter()
        .chain(anyway)
        .chain(sign)
        .chain(actions.map(|moment| format!("\n{} {}", moment.at, moment.what)))
        .collect()
}

fn seconds(time: Time) -> i64 {
    time.ms.div_euclid(1000)
}

/// The text with the escapes that keep it within one property (RFC 5545, 3.3.11).
fn escaped(words: &str) -> String {
    words.replace('\\', "\\\\").replace(';', "\\;").replace(',', "\\,").replace('\n', "\\n")
}
