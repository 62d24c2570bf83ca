//! A session from its block: an evening as it was done.

use std::collections::BTreeMap;
use std::sync::Arc;

use super::backlog::labels_differ;
use super::darkroom::Kept;
use super::named;
use crate::model::{Backlog, KeptBath, Session, Slot, Stated, StepAt, StepKind};
use crate::source::{Diagnostic, Span, clip};
use crate::vocabulary::{Lines as _, Matched, Reading, Slot as At, Statement, Text, say};

/// The faults that sessions tell.
pub(super) const FAULTS: &[(&str, &str)] = &[
    ("repeated-slot", "two rolls in one place of the tank"),
    ("repeated-bath", "a bath that a session names twice"),
    ("repeated-temperature", "a step that a session gives two temperatures"),
    ("unknown-roll", "a label that the session's backlog does not have"),
    ("roll-of-another-format", "a roll that is of another format in its backlog"),
    ("bad-fingerprint", "a fingerprint that is not eight hexadecimal digits"),
    ("bad-revision", "a revision that is not 7 to 64 hexadecimal digits"),
];

/// The session, or what is wrong with it.
pub(super) fn session(reading: &Reading, kept: &Kept<'_>, faults: &mut Vec<Diagnostic>) -> Option<Session> {
    let before = faults.len();
    let backlog = reading.one::<say::SessionBacklog>().filter(|row| row.sound);
    let backlog =
        backlog.map(|row| row.said(say::SessionBacklog::backlog).and_then(|name| kept.backlog(name, faults)));
    let baths = baths(reading, kept, faults);
    let slots: Vec<Slot> = reading.each().filter_map(slot).collect();
    slots_differ(&slots, faults);
    let steps: Vec<StepAt> = reading.each().filter_map(step).collect();
    steps_differ(&steps, faults);
    let labels = slots.iter().filter_map(|slot| Some((slot.label.as_deref()?, slot.span)));
    labels_differ(labels, faults);
    if let Some(Some(backlog)) = &backlog {
        slots.iter().for_each(|slot| in_backlog(slot, backlog, faults));
    }
    let recipe = reading.one::<say::SessionRecipe>().filter(|row| row.sound)?;
    let digits = Digits { least: 8, most: 8, fault: "bad-fingerprint" };
    let fingerprint = digits.of(recipe, say::SessionRecipe::fingerprint, faults);
    let revision = reading.one::<say::Revision>().filter(|row| row.sound);
    let digits = Digits { least: 7, most: 64, fault: "bad-revision" };
    let revision = revision.map(|row| digits.of(row, say::Revision::revision, faults));
    let (name, _) = named(reading)?;
    let date = reading.stated(say::On::date)?;
    let complete = faults.len() == before && !matches!(backlog, Some(None));
    (reading.is_sound() && complete).then_some(Session {
        name,
        span: reading.span,
        extent: reading.extent,
        date,
        recipe: Stated::new(recipe.get(say::SessionRecipe::recipe)?.to_owned(), recipe.span),
        fingerprint: fingerprint?,
        revision: revision.flatten(),
        tank: reading.stated(say::SessionTank::tank).map(|tank| tank.value.to_owned()),
        at: reading.stated(say::SessionAt::temperature).map(|at| at.value),
        ending: reading.stated(say::Ending::temperature).map(|at| at.value),
        steps,
        volume: reading.stated(say::SessionVolume::volume).map(|volume| volume.value),
        backlog: backlog.flatten(),
        slots,
        baths: baths.into_iter().flatten().collect(),
        notes: reading.texts(say::Note::text),
        retracted: None,
    })
}

fn baths(
    reading: &Reading,
    kept: &Kept<'_>,
    faults: &mut Vec<Diagnostic>,
) -> Vec<Option<Stated<Arc<KeptBath>>>> {
    let mut baths: Vec<Option<Stated<Arc<KeptBath>>>> = Vec::new();
    for row in reading.each::<say::SessionBath>().filter(|row| row.sound) {
        let Some(name) = row.said(say::SessionBath::bath) else { continue };
        let bath = kept.bath(name, faults).map(|bath| Stated { value: bath, span: row.span });
        let earlier = bath
            .as_ref()
            .and_then(|bath| baths.iter().flatten().find(|earlier| Arc::ptr_eq(&earlier.value, &bath.value)));
        if let Some(earlier) = earlier {
            faults.push(
                Diagnostic::error("repeated-bath", row.span, format!("'{}' is named already", clip(name.0)))
                    .other(earlier.span, "the first")
                    .help("take this line out: a bath counts once for an evening"),
            );
        }
        baths.push(bath);
    }
    baths
}

fn slot(row: Matched<'_, say::Loaded>) -> Option<Slot> {
    let (slot, format) = row.get(say::Loaded::slot).zip(row.get(say::Loaded::format))?;
    Some(Slot { slot, label: row.get(say::Loaded::label).map(str::to_owned), format, span: row.span })
}

fn slots_differ(slots: &[Slot], faults: &mut Vec<Diagnostic>) {
    let mut known: BTreeMap<u32, Span> = BTreeMap::new();
    for slot in slots {
        if let Some(earlier) = known.insert(slot.slot, slot.span) {
            faults.push(
                Diagnostic::error("repeated-slot", slot.span, format!("slot {} is taken", slot.slot))
                    .other(earlier, "the first")
                    .help("count the slots from the bottom of the tank, from 1 up, each once"),
            );
        }
    }
}

fn step(row: Matched<'_, say::SessionStep>) -> Option<StepAt> {
    let (kind, temperature) = row.get(say::SessionStep::kind).zip(row.get(say::SessionStep::at))?;
    let name = row.get(say::SessionStep::name).map(str::to_owned);
    Some(StepAt { kind, name, temperature, span: row.span })
}

fn steps_differ(steps: &[StepAt], faults: &mut Vec<Diagnostic>) {
    let mut known: BTreeMap<(StepKind, Option<&str>), Span> = BTreeMap::new();
    for step in steps {
        if let Some(earlier) = known.insert((step.kind, step.name.as_deref()), step.span) {
            let name = step.name.as_ref().map(|name| format!(" {}", clip(name))).unwrap_or_default();
            let message = format!("{}{name} has a temperature already", step.kind.word());
            faults.push(
                Diagnostic::error("repeated-temperature", step.span, message)
                    .other(earlier, "the first")
                    .help("keep the one it had; a step's own name stands behind its kind: step wash last at 20 C"),
            );
        }
    }
}

fn in_backlog(slot: &Slot, backlog: &Backlog, faults: &mut Vec<Diagnostic>) {
    let Some(label) = &slot.label else { return };
    let Some(roll) = backlog.roll(label) else {
        let message = format!("the backlog '{}' has no roll '{}'", backlog.name, clip(label));
        faults.push(
            Diagnostic::error("unknown-roll", slot.span, message)
                .other(backlog.span, "the backlog")
                .help("write a label that the backlog has, or add the roll there"),
        );
        return;
    };
    if roll.format != slot.format {
        let message = format!(
            "the roll '{}' is {} in its backlog, and {} here",
            clip(label),
            roll.format.word(),
            slot.format.word()
        );
        faults.push(
            Diagnostic::error("roll-of-another-format", slot.span, message)
                .other(roll.span, "the roll")
                .help("put right whichever is a slip"),
        );
    }
}

/// A text of so many hexadecimal digits, and the fault where it is none.
struct Digits {
    least: usize,
    most: usize,
    fault: &'static str,
}

impl Digits {
    fn of<R: Statement>(
        &self,
        row: Matched<'_, R>,
        slot: At<R, Text>,
        faults: &mut Vec<Diagnostic>,
    ) -> Option<String> {
        let text = row.get(slot)?;
        let fits = (self.least..=self.most).contains(&text.len())
            && text.bytes().all(|byte| byte.is_ascii_hexdigit() && !byte.is_ascii_uppercase());
        if fits {
            return Some(text.to_owned());
        }
        let what = self.fault.trim_start_matches("bad-");
        let fault = Diagnostic::error(self.fault, row.span, format!("'{}' is no {what}", clip(text)));
        faults.push(if self.least == self.most {
            fault.help(
                "write the eight letters and figures at the top right of the card, such as \"46ac83d1\"",
            )
        } else {
            fault.help("write what git log shows, such as \"0f4c1d27aa31\", or take the line out")
        });
        None
    }
}
