//! A recipe from what it says and inherits.

use std::sync::Arc;

use super::super::merge::Merged;
use super::step::step;
use super::{Built, named};
use crate::model::{Band, Film, Recipe, Stated, Step};
use crate::source::{Diagnostic, Level};
use crate::vocabulary::{Lines as _, Matched, say};

/// The recipe; `None` if anything in it is at fault, which is told.
pub(crate) fn recipe(merged: &Merged<'_>, built: &Built<'_>, faults: &mut Vec<Diagnostic>) -> Option<Recipe> {
    let before = faults.len();
    let (name, title) = named(merged.own)?;
    let film = merged.one().filter(|row| row.sound).map(|row| film(row, built, faults));
    let band = merged.one().and_then(|row| band(row, faults));
    let known_film = film.as_ref().and_then(|film| film.as_ref()).map(|film| &*film.value);
    let steps: Vec<Option<Step>> =
        merged.steps.iter().map(|own| step(own, known_film, band, built, faults)).collect();
    if merged.sound && merged.steps.is_empty() {
        faults.push(
            Diagnostic::error("missing-statement", merged.own.span, "a recipe needs at least one step")
                .help("add a step such as: develop {, or derive it from a recipe that has steps"),
        );
    }
    let told = faults.iter().skip(before).any(|fault| fault.level == Level::Error);
    if told || !merged.sound || matches!(film, Some(None)) || steps.iter().any(Option::is_none) {
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
        steps: steps.into_iter().flatten().collect(),
        sources: merged.texts(say::Source::text),
        notes: merged.texts(say::Note::text),
        cautions: merged.texts(say::Caution::text),
    })
}

fn film(
    row: Matched<'_, say::UsedFilm>,
    built: &Built<'_>,
    faults: &mut Vec<Diagnostic>,
) -> Option<Stated<Arc<Film>>> {
    let film = built.film(row.said(say::UsedFilm::film)?, faults)?;
    Some(Stated::new(film, row.span))
}

/// `between … and …`, with the colder first.
pub(super) fn band(row: Matched<'_, say::Between>, faults: &mut Vec<Diagnostic>) -> Option<Stated<Band>> {
    let (low, high) = row.get(say::Between::low).zip(row.get(say::Between::high))?;
    if low > high {
        faults.push(
            Diagnostic::error("band-upside-down", row.span, format!("{low} is warmer than {high}"))
                .offer(format!("between {high} and {low}"), format!("write between {high} and {low}")),
        );
        return None;
    }
    Some(Stated::new(Band::Between(low, high), row.span))
}
