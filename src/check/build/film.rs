//! A film from its block.

use super::solution::parts_fit;
use super::{Built, named};
use crate::model::{Clearing, Dilution, Film};
use crate::source::Diagnostic;
use crate::vocabulary::{Lines as _, Matched, Reading, say};

/// The faults that films tell.
pub(super) const FAULTS: &[(&str, &str)] =
    &[("repeated-clearing", "two clearing times of a film in one fixer of one strength")];

/// The film, or what is wrong with it.
pub(super) fn film(reading: &Reading, built: &Built<'_>, faults: &mut Vec<Diagnostic>) -> Option<Film> {
    let clears = reading.each().filter(|row| row.sound);
    let clears: Vec<Option<Clearing>> = clears.map(|row| clearing(row, built, faults)).collect();
    let complete = clears.iter().all(Option::is_some);
    let clears: Vec<Clearing> = clears.into_iter().flatten().collect();
    for (at, clearing) in clears.iter().enumerate() {
        let earlier = clears.iter().take(at).find(|other| {
            std::sync::Arc::ptr_eq(&other.solution, &clearing.solution) && other.dilution == clearing.dilution
        });
        if let Some(earlier) = earlier {
            faults.push(
                Diagnostic::error(
                    "repeated-clearing",
                    clearing.span,
                    "the film has a clearing time in this bath already",
                )
                .other(earlier.span, "the first")
                .help("keep the one that was measured last and take the other out"),
            );
        }
    }
    let (name, title) = named(reading)?;
    (reading.is_sound() && complete).then(|| Film {
        name,
        title,
        span: reading.span,
        extent: reading.extent,
        grain: reading.stated(say::Grain::grain).map(|grain| grain.value),
        speed: reading.stated(say::Speed::speed),
        clears,
        sources: reading.texts(say::Source::text),
        cautions: reading.texts(say::Caution::text),
        notes: reading.texts(say::Note::text),
    })
}

fn clearing(
    row: Matched<'_, say::Clears>,
    built: &Built<'_>,
    faults: &mut Vec<Diagnostic>,
) -> Option<Clearing> {
    let (name, span) = row.said(say::Clears::solution)?;
    let solution = built.solution(name, span, faults)?;
    let dilution = row.get(say::Clears::dilution).cloned().unwrap_or_else(Dilution::stock);
    parts_fit(&solution, &dilution, row.place(say::Clears::dilution), faults)?;
    let (time, at) = row.get(say::Clears::time).zip(row.get(say::Clears::at))?;
    Some(Clearing { time, solution, dilution, at, span: row.span })
}
