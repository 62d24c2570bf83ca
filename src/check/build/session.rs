//! A session from its block: an evening as it was done.

use std::collections::BTreeMap;
use std::sync::Arc;

use super::super::read::Reading;
use super::backlog::labels_differ;
use super::darkroom::Kept;
use super::{named, row, sound, texts};
use crate::model::{Backlog, KeptBath, Session, Slot, Stated, StepAt, StepKind};
use crate::source::{Diagnostic, Span, clip};

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
    let said = |word| row(reading, word).filter(|row| row.sound);
    let backlog = said("backlog").map(|row| row.name().and_then(|name| kept.backlog(name, faults)));
    let baths = baths(reading, kept, faults);
    let all = |word| reading.rows.iter().filter(move |row| row.row.word == word);
    let slots: Vec<Slot> = all("slot").filter_map(slot).collect();
    slots_differ(&slots, faults);
    let steps: Vec<StepAt> = all("step").filter_map(step).collect();
    steps_differ(&steps, faults);
    let labels = slots.iter().filter_map(|slot| Some((slot.label.as_deref()?, slot.span)));
    labels_differ(labels, faults);
    if let Some(Some(backlog)) = &backlog {
        slots.iter().for_each(|slot| in_backlog(slot, backlog, faults));
    }
    let recipe = said("recipe")?;
    let fingerprint = hexadecimal(recipe, (8, 8), "bad-fingerprint", faults);
    let revision = said("revision").map(|row| hexadecimal(row, (7, 64), "bad-revision", faults));
    let (name, _) = named(reading)?;
    let date = said("date").and_then(|row| Some(Stated::new(row.date()?, row.span)))?;
    let temperature = |word| said(word).and_then(Reading::temperature);
    let complete = faults.len() == before && !matches!(backlog, Some(None));
    (sound(reading) && complete).then_some(Session {
        name,
        span: reading.span,
        extent: reading.extent,
        date,
        recipe: Stated::new(recipe.name()?.0.to_owned(), recipe.span),
        fingerprint: fingerprint?,
        revision: revision.flatten(),
        tank: said("tank").and_then(Reading::name).map(|(name, _)| name.to_owned()),
        at: temperature("at"),
        ending: temperature("ending"),
        steps,
        volume: said("volume").and_then(Reading::volume),
        backlog: backlog.flatten(),
        slots,
        baths: baths.into_iter().flatten().collect(),
        notes: texts(&reading.rows, "note"),
        retracted: None,
    })
}

fn baths(
    reading: &Reading,
    kept: &Kept<'_>,
    faults: &mut Vec<Diagnostic>,
) -> Vec<Option<Stated<Arc<KeptBath>>>> {
    let mut baths: Vec<Option<Stated<Arc<KeptBath>>>> = Vec::new();
    for row in reading.rows.iter().filter(|row| row.row.word == "bath" && row.sound) {
        let Some(name) = row.name() else { continue };
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

fn slot(row: &Reading) -> Option<Slot> {
    let slot = row.counts().first().copied()?;
    Some(Slot { slot, label: row.text(), format: row.format()?, span: row.span })
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

fn step(row: &Reading) -> Option<StepAt> {
    let name = row.name().map(|(name, _)| name.to_owned());
    Some(StepAt { kind: row.step()?, name, temperature: row.temperature()?, span: row.span })
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

/// The text of a statement that is to be so many hexadecimal digits.
fn hexadecimal(
    row: &Reading,
    (least, most): (usize, usize),
    name: &'static str,
    faults: &mut Vec<Diagnostic>,
) -> Option<String> {
    let text = row.text()?;
    let fits = (least..=most).contains(&text.len())
        && text.bytes().all(|byte| byte.is_ascii_hexdigit() && !byte.is_ascii_uppercase());
    if fits {
        return Some(text);
    }
    let fault = Diagnostic::error(name, row.span, format!("'{}' is no {}", clip(&text), row_word(name)));
    faults.push(if least == most {
        fault.help("write the eight letters and figures at the top right of the card, such as \"46ac83d1\"")
    } else {
        fault.help("write what git log shows, such as \"0f4c1d27aa31\", or take the line out")
    });
    None
}

fn row_word(name: &str) -> &str {
    name.trim_start_matches("bad-")
}
