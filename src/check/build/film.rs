//! A film from its block.

use super::super::read::Reading;
use super::solution::parts_fit;
use super::{Built, named, row, sound, texts};
use crate::model::{Clearing, Dilution, Film, Grain, Stated};
use crate::source::Diagnostic;

/// The faults that films tell.
pub(super) const FAULTS: &[(&str, &str)] =
    &[("repeated-clearing", "two clearing times of a film in one fixer of one strength")];

/// The film, or what is wrong with it.
pub(super) fn film(reading: &Reading, built: &Built<'_>, faults: &mut Vec<Diagnostic>) -> Option<Film> {
    let rows = || reading.rows.iter().filter(|row| row.row.word == "clears" && row.sound);
    let clears: Vec<Option<Clearing>> = rows().map(|row| clearing(row, built, faults)).collect();
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
    let grain = row(reading, "grain")
        .map(|row| if row.has("tabular") { Grain::Tabular } else { Grain::Conventional });
    let speed = row(reading, "speed").and_then(|row| Some(Stated::new(row.count()?, row.span)));
    (sound(reading) && complete).then(|| Film {
        name,
        title,
        span: reading.span,
        extent: reading.extent,
        grain,
        speed,
        clears,
        sources: texts(&reading.rows, "source"),
        cautions: texts(&reading.rows, "caution"),
        notes: texts(&reading.rows, "note"),
    })
}

fn clearing(row: &Reading, built: &Built<'_>, faults: &mut Vec<Diagnostic>) -> Option<Clearing> {
    let (name, span) = row.name()?;
    let solution = built.solution(name, span, faults)?;
    let dilution = row.dilution().unwrap_or_else(Dilution::stock);
    parts_fit(&solution, &dilution, row.dilution_span(), faults)?;
    Some(Clearing { time: row.time()?, solution, dilution, at: row.temperature()?, span: row.span })
}
