//! A backlog from its block: rolls that wait.

use std::collections::BTreeMap;

use super::{Built, named};
use crate::model::{Backlog, Exposed};
use crate::source::{Diagnostic, FileId, Span, clip};
use crate::vocabulary::{Declared, Lines as _, Matched, Reading, say};

/// The faults that backlogs tell.
pub(super) const FAULTS: &[(&str, &str)] =
    &[("repeated-label", "two rolls with one label"), ("empty-label", "a label of which nothing shows")];

/// The backlog, or what is wrong with it.
pub(super) fn backlog(reading: &Reading, built: &Built<'_>, faults: &mut Vec<Diagnostic>) -> Option<Backlog> {
    let before = faults.len();
    let rolls = reading.each::<say::Roll>().filter(|row| row.sound);
    let rolls: Vec<Option<Exposed>> = rolls.map(|row| roll(row, built, faults)).collect();
    let recipes = reading.each::<say::BacklogRecipe>().filter(|row| row.sound);
    let recipes: Vec<Option<(FileId, String)>> = recipes.map(|row| recipe(row, built, faults)).collect();
    labels_differ(rolls.iter().flatten().map(|roll| (roll.label.as_str(), roll.span)), faults);
    // A roll that is not known is not a roll that is not there.
    let whole = rolls.iter().all(Option::is_some) && recipes.iter().all(Option::is_some);
    let rolls: Vec<Exposed> = rolls.into_iter().flatten().collect();
    let (name, title) = named(reading)?;
    (reading.is_sound() && whole && faults.len() == before).then(|| Backlog {
        name,
        title,
        span: reading.span,
        recipes: recipes.into_iter().flatten().collect(),
        places: rolls.iter().enumerate().map(|(at, roll)| (roll.label.clone(), at)).collect(),
        rolls,
        notes: reading.texts(say::Note::text),
    })
}

fn roll(row: Matched<'_, say::Roll>, built: &Built<'_>, faults: &mut Vec<Diagnostic>) -> Option<Exposed> {
    let film = built.film(row.said(say::Roll::film)?, faults)?;
    Some(Exposed {
        label: row.get(say::Roll::label)?.to_owned(),
        format: row.get(say::Roll::format)?,
        film,
        index: row.get(say::Roll::index),
        shot: row.get(say::Roll::shot),
        span: row.span,
    })
}

fn recipe(
    row: Matched<'_, say::BacklogRecipe>,
    built: &Built<'_>,
    faults: &mut Vec<Diagnostic>,
) -> Option<(FileId, String)> {
    let (name, span) = row.said(say::BacklogRecipe::recipe)?;
    let key = built.scopes.find(Declared::Recipe, name, span, faults)?;
    let own = name.rsplit('/').next().unwrap_or(name);
    Some((key.file, own.to_owned()))
}

/// Holds labels apart; one that shows nothing is told too.
pub(super) fn labels_differ<'a>(labels: impl Iterator<Item = (&'a str, Span)>, faults: &mut Vec<Diagnostic>) {
    let mut known: BTreeMap<&str, Span> = BTreeMap::new();
    for (label, span) in labels {
        if label.trim().is_empty() {
            let fault = Diagnostic::error("empty-label", span, "this roll's label is empty");
            faults.push(fault.help("write what stands on the roll, such as \"E-01\""));
        } else if let Some(earlier) = known.get(label) {
            faults.push(
                Diagnostic::error(
                    "repeated-label",
                    span,
                    format!("a roll '{}' is here already", clip(label)),
                )
                .other(*earlier, "the first")
                .help("give each roll a label of its own"),
            );
        } else {
            known.insert(label, span);
        }
    }
}
