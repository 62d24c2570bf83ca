//! Reports statements about the darkroom that contradict each other, such as a session with a bath that was already
//! discarded. Such a finding is only advice if the session marks the statement with `doubt`.

use std::collections::BTreeMap;
use std::sync::Arc;

use super::super::error;
use super::Builder;
use crate::model::{Backlog, Darkroom, Date, KeptBath, Session, Slot};
use crate::source::{Diagnostic, Level, Sorted as _, Span, clip};

/// Where and when a roll was developed: the tank slot and the session.
type Developed<'a> = (&'a Slot, &'a Session);

impl Builder<'_> {
    /// Reports contradictions between sessions, tests, baths and backlogs. Retracted sessions are skipped.
    pub(super) fn contradictions(&mut self, darkroom: &Darkroom) {
        for test in &darkroom.tests {
            self.bath_exists(&test.bath, test.date.value, test.date.span, false);
        }
        let mut sessions: Vec<&Arc<Session>> = darkroom.standing().collect();
        sessions.order_by_key(|session| (*session.date, session.span));
        let mut known: BTreeMap<(Span, &str), Developed<'_>> = BTreeMap::new();
        for session in sessions {
            let on = session.date.value;
            for used in &session.baths {
                self.bath_exists(&used.bath, on, used.span, used.doubt.is_some());
            }
            let Some(backlog) = &session.backlog else { continue };
            for slot in &session.slots {
                let Some(label) = slot.label.as_deref() else { continue };
                self.faults.extend(not_in_backlog(slot, backlog));
                let now = (slot, &**session);
                let first = *known.entry((backlog.span, label)).or_insert(now);
                if !std::ptr::eq(first.0, slot) {
                    self.report(developed_twice(label, first, now));
                    // The first slot is marked `doubt` and this one is certain, so later sessions are compared with
                    // this one.
                    if first.0.doubt.is_some() && slot.doubt.is_none() {
                        known.insert((backlog.span, label), now);
                    }
                }
                self.faults.extend(developed_before_shot(label, slot, on, backlog));
            }
        }
    }

    fn bath_exists(&mut self, bath: &KeptBath, on: Date, span: Span, is_doubted: bool) {
        let (fate, (day, label)) = match bath.discarded {
            _ if on < bath.mixed.value => ("not mixed yet", (bath.mixed.span, "mixed on this day")),
            Some(discarded) if discarded.value < on => {
                ("already discarded", (discarded.span, "discarded on this day"))
            }
            _ => return,
        };
        let fault = error(
            "bath-not-there",
            span,
            format!("on {on} the bath '{}' was {fate}", bath.name),
            "correct the day, or name the bath that was used",
        );
        self.report(weighed(fault.other(day, label), is_doubted));
    }
}

fn weighed(fault: Diagnostic, is_doubted: bool) -> Diagnostic {
    if is_doubted { Diagnostic { level: Level::Advice, ..fault } } else { fault }
}

fn developed_twice(label: &str, (earlier, by): Developed<'_>, (slot, _): Developed<'_>) -> Diagnostic {
    let fault = error(
        "developed-twice",
        slot.span,
        format!("the roll '{}' was already developed on {}", clip(label), by.date.value),
        format!(
            "correct the label, or retract the wrong session, such as: retract {} because \"…\"",
            by.name
        ),
    );
    let fault = fault.other(earlier.span, format!("developed in the session '{}'", by.name));
    weighed(fault, earlier.doubt.is_some() || slot.doubt.is_some())
}

fn developed_before_shot(label: &str, slot: &Slot, on: Date, backlog: &Backlog) -> Option<Diagnostic> {
    let roll = backlog.roll(label)?;
    let shot = roll.shot.filter(|shot| on < *shot)?;
    let fault = error(
        "developed-before-shot",
        slot.span,
        format!("the roll '{}' was shot on {shot}, after this session of {on}", clip(label)),
        "correct the label or the day",
    );
    Some(weighed(fault.other(roll.span, "the roll"), slot.doubt.is_some()))
}

/// The error if the backlog lacks the roll with the label of this slot, or has it in another format; otherwise `None`.
pub(super) fn not_in_backlog(slot: &Slot, backlog: &Backlog) -> Option<Diagnostic> {
    let label = slot.label.as_ref()?;
    let Some(roll) = backlog.roll(label) else {
        let fault = error(
            "unknown-roll",
            slot.span,
            format!("the backlog '{}' has no roll '{}'", backlog.name, clip(label)),
            "write the label of a roll in the backlog, or add this roll to it",
        );
        return Some(weighed(fault.other(backlog.span, "the backlog"), slot.doubt.is_some()));
    };
    let (there, here) = (roll.format.to_string(), slot.format.to_string());
    let fault = error(
        "roll-of-another-format",
        slot.span,
        format!("the roll '{}' is {there} in its backlog, and {here} here", clip(label)),
        "correct the format here or in the backlog",
    )
    .other(roll.span, "the roll");
    (roll.format != slot.format).then(|| weighed(fault, slot.doubt.is_some()))
}
