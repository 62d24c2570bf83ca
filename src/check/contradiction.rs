//! Reports contradictions between sessions, tests, backlogs and baths. Retracted sessions are ignored.

use std::collections::BTreeMap;

use crate::model::{Darkroom, Date, KeptBath, Session};
use crate::source::{Diagnostic, Span, clip};

pub(super) fn contradictions(darkroom: &Darkroom, faults: &mut Vec<Diagnostic>) {
    for test in &darkroom.tests {
        present(&test.bath, test.date.value, test.date.span, faults);
    }
    for session in darkroom.standing() {
        for bath in &session.baths {
            present(&bath.value, session.date.value, bath.span, faults);
        }
    }
    developed_once(darkroom, faults);
    shot_before(darkroom, faults);
}

fn present(bath: &KeptBath, on: Date, span: Span, faults: &mut Vec<Diagnostic>) {
    let (message, other) = if on < bath.mixed.value {
        (format!("on {on} the bath '{}' was not mixed yet", bath.name), bath.mixed.span)
    } else if let Some(discarded) = bath.discarded.filter(|discarded| discarded.value < on) {
        (format!("on {on} the bath '{}' was already discarded", bath.name), discarded.span)
    } else {
        return;
    };
    faults.push(
        Diagnostic::error("bath-not-there", span, message)
            .other(other, "the bath's day")
            .help("correct the day, or name the bath that was used"),
    );
}

fn developed_once(darkroom: &Darkroom, faults: &mut Vec<Diagnostic>) {
    let mut known: BTreeMap<(Span, &str), (Span, &Session)> = BTreeMap::new();
    for session in darkroom.standing() {
        let Some(backlog) = &session.backlog else { continue };
        for slot in &session.slots {
            let Some(label) = slot.label.as_deref() else { continue };
            let Some((earlier, by)) = known.insert((backlog.span, label), (slot.span, session)) else {
                continue;
            };
            let message = format!("the roll '{}' was already developed on {}", clip(label), by.date.value);
            faults.push(
                Diagnostic::error("developed-twice", slot.span, message)
                    .other(earlier, format!("in '{}'", by.name))
                    .help("correct the label, or retract the wrong session: retract … because \"…\""),
            );
        }
    }
}

fn shot_before(darkroom: &Darkroom, faults: &mut Vec<Diagnostic>) {
    for session in darkroom.standing() {
        let Some(backlog) = &session.backlog else { continue };
        for slot in &session.slots {
            let Some(roll) = slot.label.as_deref().and_then(|label| backlog.roll(label)) else { continue };
            let Some(shot) = roll.shot.filter(|shot| session.date.value < *shot) else { continue };
            let (label, on) = (clip(&roll.label), session.date.value);
            let message = format!("the roll '{label}' was shot on {shot}, after this session of {on}");
            faults.push(
                Diagnostic::error("developed-before-shot", slot.span, message)
                    .other(roll.span, "the roll")
                    .help("correct the label or the day"),
            );
        }
    }
}
