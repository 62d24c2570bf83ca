//! A session: an evening as it was done.

use std::sync::Arc;

use super::{Builder, named};
use crate::model::{Backlog, KeptBath, Session, Slot, Stated};
use crate::source::{Diagnostic, clip};
use crate::vocabulary::{Declared, Lines as _, Matched, Reading, say};

impl Builder<'_> {
    pub(super) fn session(&mut self, reading: &Reading) -> Option<Session> {
        let before = self.faults.len();
        let backlog = reading.one_sound::<say::SessionBacklog>().map(|row| {
            let name = row.said(say::SessionBacklog::backlog)?;
            self.find(Declared::Backlog, name, |it| &it.backlogs)
        });
        let baths = self.session_baths(reading);
        let slots: Vec<Slot> = reading.each().filter_map(slot).collect();
        self.slots_and_steps_differ(&slots, reading);
        self.labels_differ(slots.iter().filter_map(|slot| Some((slot.label.as_deref()?, slot.span))));
        if let Some(Some(backlog)) = &backlog {
            self.faults.extend(slots.iter().filter_map(|slot| not_in_backlog(slot, backlog)));
        }
        let recipe = reading.one_sound::<say::SessionRecipe>()?;
        let fingerprint = recipe.get(say::SessionRecipe::fingerprint)?;
        if !is_hex(fingerprint, 8, 8) {
            let message = format!("'{}' is not a fingerprint", clip(fingerprint));
            self.report(Diagnostic::error("bad-fingerprint", recipe.span, message).help(
                "write the eight letters and figures at the top right of the card, such as \"46ac83d1\"",
            ));
        }
        let revision = reading.stated(say::Revision::revision);
        if let Some(Stated { value: text, span }) = revision.filter(|text| !is_hex(text.value, 7, 64)) {
            let message = format!("'{}' is not a revision", clip(text));
            self.report(
                Diagnostic::error("bad-revision", span, message)
                    .help("write what git log shows, such as \"0f4c1d27aa31\", or remove the line"),
            );
        }
        let (name, _) = named(reading)?;
        let date = reading.stated(say::On::date)?;
        let complete = self.faults.len() == before && !matches!(backlog, Some(None));
        (reading.is_sound() && complete).then_some(Session {
            name,
            span: reading.span,
            date,
            backlog: backlog.flatten(),
            slots,
            baths,
            retracted: None,
        })
    }

    fn slots_and_steps_differ(&mut self, slots: &[Slot], reading: &Reading) {
        self.distinct(slots.iter().map(|slot| (slot.slot, slot.span)), |slot, span| {
            Diagnostic::error("repeated-slot", span, format!("slot {slot} is taken"))
                .help("number the slots from the bottom of the tank, from 1, each once")
        });
        let steps = reading.each::<say::SessionStep>().filter_map(|row| {
            Some(((row.get(say::SessionStep::kind)?, row.get(say::SessionStep::name)), row.span))
        });
        self.distinct(steps, |(kind, name), span| {
            let name = name.map(|name| format!(" {}", clip(name))).unwrap_or_default();
            let message = format!("{}{name} already has a temperature", kind.word());
            Diagnostic::error("repeated-temperature", span, message)
                .help("keep the right one; the name of a step follows its kind: step wash last at 20 C")
        });
    }

    fn session_baths(&mut self, reading: &Reading) -> Vec<Stated<Arc<KeptBath>>> {
        let rows = reading.each().filter(|row| row.sound);
        let named = rows.filter_map(|row| Some((row.said(say::SessionBath::bath)?, row.span)));
        let baths: Vec<Stated<Arc<KeptBath>>> =
            named.filter_map(|(name, span)| Some(Stated::new(self.find_bath(name)?, span))).collect();
        let keys = baths.iter().map(|bath| ((bath.value.span, &bath.value.name), bath.span));
        self.distinct(keys, |(_, name), span| {
            Diagnostic::error("repeated-bath", span, format!("the bath '{}' occurs twice", clip(name)))
                .help("remove this line: a bath counts once for an evening")
        });
        baths
    }
}

fn slot(row: Matched<'_, say::Loaded>) -> Option<Slot> {
    let (slot, format) = row.get(say::Loaded::slot).zip(row.get(say::Loaded::format))?;
    Some(Slot { slot, label: row.get(say::Loaded::label).map(str::to_owned), format, span: row.span })
}

/// The error of a label that the backlog does not have, or has with another format.
fn not_in_backlog(slot: &Slot, backlog: &Backlog) -> Option<Diagnostic> {
    let label = slot.label.as_ref()?;
    let Some(roll) = backlog.roll(label) else {
        let message = format!("the backlog '{}' has no roll '{}'", backlog.name, clip(label));
        let fault = Diagnostic::error("unknown-roll", slot.span, message).other(backlog.span, "the backlog");
        return Some(fault.help("write a label of the backlog, or add the roll there"));
    };
    let (there, here) = (roll.format.word(), slot.format.word());
    let message = format!("the roll '{}' is {there} in its backlog, and {here} here", clip(label));
    let fault = Diagnostic::error("roll-of-another-format", slot.span, message).other(roll.span, "the roll");
    (roll.format != slot.format).then(|| fault.help("correct the format here or in the backlog"))
}

fn is_hex(text: &str, least: usize, most: usize) -> bool {
    (least..=most).contains(&text.len())
        && text.bytes().all(|byte| byte.is_ascii_hexdigit() && !byte.is_ascii_uppercase())
}
