//! A film.

use super::{Builder, named};
use crate::model::{Clearing, Dilution, Film};
use crate::source::Diagnostic;
use crate::vocabulary::{Lines as _, Matched, Reading, say};

impl Builder<'_> {
    pub(super) fn film(&mut self, reading: &Reading) -> Option<Film> {
        let clears = reading.each().filter(|row| row.sound);
        let clears: Vec<Option<Clearing>> = clears.map(|row| self.clearing(row)).collect();
        let known = clears.iter().flatten();
        let baths = known.map(|clearing| ((clearing.solution.span, &clearing.dilution), clearing.span));
        self.distinct(baths, |_, span| {
            let message = "the film already has a clearing time in this bath";
            Diagnostic::error("repeated-clearing", span, message)
                .help("keep the time that was measured last and remove the other")
        });
        let (name, title) = named(reading)?;
        let clears = clears.into_iter().collect::<Option<_>>()?;
        reading.is_sound().then(|| Film {
            name,
            title,
            span: reading.span,
            extent: reading.extent,
            grain: reading.stated(say::Grain::grain).map(|grain| grain.value),
            speed: reading.stated(say::Speed::speed),
            clears,
            cautions: reading.texts(say::Caution::text),
            notes: reading.texts(say::Note::text),
        })
    }

    fn clearing(&mut self, row: Matched<'_, say::Clears>) -> Option<Clearing> {
        let solution = self.find_solution(row.said(say::Clears::solution)?)?;
        let dilution = row.get(say::Clears::dilution).cloned().unwrap_or_else(Dilution::stock);
        self.parts_fit(&solution, &dilution, row.place(say::Clears::dilution))?;
        let (time, at) = row.get(say::Clears::time).zip(row.get(say::Clears::at))?;
        Some(Clearing { time, solution, dilution, at, span: row.span })
    }
}
