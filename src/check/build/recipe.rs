//! A recipe, from its own statements and those it inherits.

use std::sync::Arc;

use super::super::merge::Merged;
use super::{Builder, named};
use crate::model::{Band, Film, Recipe, Stated, Step};
use crate::source::Diagnostic;
use crate::vocabulary::{Lines as _, Matched, say};

impl Builder<'_> {
    pub(crate) fn recipe(&mut self, merged: &Merged<'_>) -> Option<Recipe> {
        let before = self.faults.len();
        let (name, title) = named(merged.own)?;
        let film = merged.one_sound().map(|row| self.used_film(row));
        let band = merged.one().and_then(|row| self.between(row));
        let known_film = film.as_ref().and_then(|film| film.as_ref()).map(|film| &*film.value);
        let steps: Vec<Option<Step>> =
            merged.steps.iter().map(|own| self.step(own, known_film, band)).collect();
        if merged.sound && merged.steps.is_empty() {
            let message = "a recipe needs at least one step";
            self.report(
                Diagnostic::error("missing-statement", merged.own.span, message)
                    .help("add a step such as: develop {, or derive the recipe from one that has steps"),
            );
        }
        if !self.no_error_since(before) || !merged.sound || matches!(film, Some(None)) {
            return None;
        }
        Some(Recipe {
            name,
            title,
            file: merged.own.span.file,
            span: merged.own.span,
            extent: merged.own.extent,
            parent: merged.parent.clone(),
            film: film.flatten(),
            index: merged.stated(say::ExposedAt::index),
            steps: steps.into_iter().collect::<Option<_>>()?,
            notes: merged.texts(say::Note::text),
            cautions: merged.texts(say::Caution::text),
        })
    }

    fn used_film(&mut self, row: Matched<'_, say::UsedFilm>) -> Option<Stated<Arc<Film>>> {
        Some(Stated::new(self.find_film(row.said(say::UsedFilm::film)?)?, row.span))
    }

    /// `between … and …`, with the colder temperature first.
    pub(super) fn between(&mut self, row: Matched<'_, say::Between>) -> Option<Stated<Band>> {
        let (low, high) = row.get(say::Between::low).zip(row.get(say::Between::high))?;
        if low > high {
            let right = format!("between {high} and {low}");
            let title = format!("write {right}");
            let fault =
                Diagnostic::error("band-upside-down", row.span, format!("{low} is warmer than {high}"));
            self.report(fault.offer(right, title));
            return None;
        }
        Some(Stated::new(Band::Between(low, high), row.span))
    }
}
