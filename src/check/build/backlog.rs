//! A backlog: rolls to be developed.

use super::{Builder, named};
use crate::model::{Backlog, Exposed};
use crate::source::{Diagnostic, FileId, Span, clip};
use crate::vocabulary::{Declared, Lines as _, Matched, Reading, say};

impl Builder<'_> {
    pub(super) fn backlog(&mut self, reading: &Reading) -> Option<Backlog> {
        let before = self.faults.len();
        let rolls = reading.each().filter(|row| row.sound);
        let rolls: Vec<Option<Exposed>> = rolls.map(|row| self.roll(row)).collect();
        let recipes = reading.each().filter(|row| row.sound);
        let recipes: Vec<Option<(FileId, String)>> = recipes.map(|row| self.backlog_recipe(row)).collect();
        self.labels_differ(rolls.iter().flatten().map(|roll| (roll.label.as_str(), roll.span)));
        let (name, title) = named(reading)?;
        // Without a roll that has an error the backlog would be another one.
        let rolls: Vec<Exposed> = rolls.into_iter().collect::<Option<_>>()?;
        let recipes = recipes.into_iter().collect::<Option<_>>()?;
        (reading.is_sound() && self.faults.len() == before).then(|| Backlog {
            name,
            title,
            span: reading.span,
            recipes,
            places: rolls.iter().enumerate().map(|(at, roll)| (roll.label.clone(), at)).collect(),
            rolls,
        })
    }

    fn roll(&mut self, row: Matched<'_, say::Roll>) -> Option<Exposed> {
        let film = self.find_film(row.said(say::Roll::film)?)?;
        Some(Exposed {
            label: row.get(say::Roll::label)?.to_owned(),
            format: row.get(say::Roll::format)?,
            film,
            index: row.get(say::Roll::index),
            shot: row.get(say::Roll::shot),
            span: row.span,
        })
    }

    fn backlog_recipe(&mut self, row: Matched<'_, say::BacklogRecipe>) -> Option<(FileId, String)> {
        let (name, span) = row.said(say::BacklogRecipe::recipe)?;
        let key = self.scopes.find(Declared::Recipe, name, span, &mut self.faults)?;
        let own = name.rsplit('/').next().unwrap_or(name);
        Some((key.file, own.to_owned()))
    }

    /// Reports empty and repeated labels.
    pub(super) fn labels_differ<'r>(&mut self, labels: impl Iterator<Item = (&'r str, Span)>) {
        let (empty, labels): (Vec<_>, Vec<_>) = labels.partition(|(label, _)| label.trim().is_empty());
        for (_, span) in empty {
            let fault = Diagnostic::error("empty-label", span, "this roll's label is empty");
            self.report(fault.help("write what is on the roll, such as \"E-01\""));
        }
        self.distinct(labels, |label, span| {
            let message = format!("there is already a roll '{}'", clip(label));
            Diagnostic::error("repeated-label", span, message).help("give each roll its own label")
        });
    }
}
