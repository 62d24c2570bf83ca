//! Builds wedges, trials and thermometers.

use super::super::error;
use super::{Builder, named};
use crate::model::{ContrastMeasure, Number, Piece, Stated, Temperature, Thermometer, Time, Trial};
use crate::source::{Diagnostic, Span};
use crate::trial::Curve;
use crate::vocabulary::{Declared, Lines as _, Matched, Reading, say};

/// A step wedge: `wedge step-21 { … }`.
#[derive(Debug, Clone)]
pub(super) struct Wedge {
    span: Span,
    densities: Vec<f64>,
}

/// A contrast may fall with time by this many times the error of a contrast before it is reported.
const FALL: f64 = 3.0;

impl Builder<'_> {
    pub(super) fn wedge(&mut self, reading: &Reading) -> Option<Wedge> {
        let row = reading.one_sound::<say::Densities>()?;
        let densities = densities(row);
        if densities.len() < 3 {
            self.error(
                "wedge-too-short",
                row.span,
                "a wedge has at least three steps",
                "write the densities of all steps",
            );
            return None;
        }
        reading.is_sound().then_some(Wedge { span: reading.span, densities })
    }

    /// The thermometers that the files declare.
    pub(crate) fn thermometers(&self) -> Vec<Thermometer> {
        let rows = self.units.values().flat_map(|unit| unit.readings.iter());
        let rows = rows.filter_map(Reading::view::<say::TrialThermometer>).filter(|row| row.sound);
        rows.filter_map(|row| thermometer(row).map(|stated| stated.value)).collect()
    }

    pub(super) fn trial(&mut self, reading: &Reading) -> Option<Trial> {
        let before = self.faults.len();
        let (name, title) = named(reading)?;
        let film = reading.one_sound::<say::TrialFilm>();
        let film = film.and_then(|row| self.find_film(row.said(say::TrialFilm::film)?));
        let bath = reading.one_sound::<say::TrialIn>();
        let at = bath.and_then(|row| row.at());
        let contents = bath.and_then(|row| {
            let (name, part) = (row.said(say::TrialIn::solution)?, row.said(say::TrialIn::part));
            self.diluted(name, part, row.dilution(), row.place(say::TrialIn::dilution))
        });
        let agitate = reading.one_sound::<say::TrialAgitate>();
        let agitation = agitate.and_then(|row| {
            let clauses = row.all(say::TrialAgitate::clause).map(|(clause, _)| clause);
            self.named_or_stated(row.said(say::TrialAgitate::scheme), clauses.collect(), row.span)
        });
        let tank = reading.one_sound::<say::TrialTank>();
        let tank =
            tank.and_then(|row| self.find(Declared::Tank, row.said(say::TrialTank::tank)?, |it| &it.tanks));
        let thermometer = reading.one_sound::<say::TrialThermometer>().and_then(thermometer);
        let measure = reading.one_sound::<say::Measured>().map_or(ContrastMeasure::USUAL, measure);
        let pieces = self.pieces(reading, at, measure)?;
        let (solution, dilution) = contents?;
        let complete = reading.is_sound() && self.no_error_since(before);
        let trial = Trial {
            name,
            title,
            span: reading.span,
            date: reading.one_sound::<say::TrialDate>().and_then(|row| row.date()),
            film: film?,
            solution,
            part: bath.and_then(|row| row.part()).map(str::to_owned),
            dilution,
            agitation,
            tank,
            thermometer,
            measure,
            reading_error: reading.one_sound::<say::ReadingError>().and_then(|row| row.error()),
            pieces,
        };
        self.contrast_falls(&trial);
        complete.then_some(trial)
    }

    /// The pieces and strips of a trial; `None` after an error.
    fn pieces(
        &mut self,
        reading: &Reading,
        at: Option<Temperature>,
        measure: ContrastMeasure,
    ) -> Option<Vec<Piece>> {
        let wedge = match reading.one_sound::<say::Exposed>() {
            Some(row) => Some(self.find(Declared::Wedge, row.said(say::Exposed::wedge)?, |it| &it.wedges)?),
            None => None,
        };
        let mut pieces = Vec::new();
        let mut complete = true;
        for row in reading.rows.iter().filter(|row| row.sound) {
            let piece = if let Some(piece) = row.view::<say::Piece>() {
                self.at(piece.at().or(at), piece.span).zip(piece.time()).map(|(at, time)| Piece {
                    time,
                    at,
                    text: piece.text().map(str::to_owned),
                    contrast: piece.contrast().map(Number::real),
                    curve: None,
                    span: piece.span,
                })
            } else if let Some(strip) = row.view::<say::StripHeader>() {
                self.strip(row, strip, at, (wedge.as_deref(), measure))
            } else {
                continue;
            };
            complete &= piece.is_some();
            pieces.extend(piece);
        }
        if pieces.is_empty() && complete && reading.block_sound {
            let message = "this trial has no pieces";
            self.error(
                "missing-statement",
                reading.span,
                message,
                "add what was developed, such as: piece 8:00 \"right\"",
            );
        }
        (complete && !pieces.is_empty()).then_some(pieces)
    }

    fn at(&mut self, at: Option<Temperature>, span: Span) -> Option<Temperature> {
        if at.is_none() {
            self.error(
                "piece-without-temperature",
                span,
                "this piece does not say how warm the developer was",
                "add it to the line of the developer: in mq-borax 1+1 at 20 C; or to the piece: piece 8:00 at 20 C",
            );
        }
        at
    }

    /// A strip with the densities of the wedge's steps.
    fn strip(
        &mut self,
        reading: &Reading,
        header: Matched<'_, say::StripHeader>,
        at: Option<Temperature>,
        (wedge, measure): (Option<&Wedge>, ContrastMeasure),
    ) -> Option<Piece> {
        let at = self.at(header.at().or(at), header.span)?;
        let Some(wedge) = wedge else {
            self.error(
                "strip-without-wedge",
                header.span,
                "this strip does not say through which wedge it was exposed",
                "add to the trial, such as: exposed by step-21",
            );
            return None;
        };
        let row = reading.one_sound::<say::Densities>()?;
        let densities = densities(row);
        let fog = reading.one_sound::<say::Fog>()?;
        let fog = mean(fog.all(say::Fog::fog).map(|(density, _)| density.real()));
        if densities.len() != wedge.densities.len() {
            let fault = error(
                "other-count-of-steps",
                row.span,
                format!(
                    "the strip has {} densities, and the wedge has {} steps",
                    densities.len(),
                    wedge.densities.len()
                ),
                "write a density for each step of the wedge, in its order",
            );
            self.report(fault.other(wedge.span, "the wedge"));
            return None;
        }
        // A denser step of the wedge lets less light through.
        let steps: Vec<(f64, f64)> = wedge.densities.iter().map(|density| -density).zip(densities).collect();
        if falls(&steps) {
            let fault = error(
                "wedge-read-backwards",
                row.span,
                "the densities fall where the wedge lets more light through",
                "write the densities from the other end",
            );
            self.report(fault.other(wedge.span, "the wedge"));
            return None;
        }
        let curve = Curve::new(&steps, fog);
        let contrast = curve.as_ref().and_then(|curve| measure.of(curve));
        if contrast.is_none() {
            self.error(
                "curve-too-short",
                row.span,
                format!("these densities do not reach far enough for the {}", measure.words()),
                "the curve must begin under a density of 0.10 above the fog, and go on as far as is measured; \
                 or measure over fewer stops: measure gradient over 5 stops",
            );
        }
        let contrast = Some(contrast?);
        Some(Piece { time: header.time()?, at, text: None, contrast, curve, span: header.span })
    }

    /// Warns of a contrast that falls although the development is longer.
    fn contrast_falls(&mut self, trial: &Trial) {
        let mut known: Vec<(Temperature, Time, f64, Span)> = Vec::new();
        known.extend(trial.pieces.iter().filter_map(|it| Some((it.at, it.time, it.contrast?, it.span))));
        known.sort_by_key(|(at, time, ..)| (*at, *time));
        let least = FALL * trial.contrast_error();
        for (short, long) in known.iter().zip(known.iter().skip(1)) {
            if short.0 == long.0 && short.1 < long.1 && long.2 < short.2 - least {
                let message = format!(
                    "the contrast falls although the development is longer: {:.2} after {}, {:.2} after {}",
                    short.2, short.1, long.2, long.1
                );
                let fault = Diagnostic::warning("contrast-falls", long.3, message)
                    .help("see whether two pieces were mixed up, or read one of them again")
                    .other(short.3, "the shorter development");
                self.report(fault);
            }
        }
    }
}

fn thermometer(row: Matched<'_, say::TrialThermometer>) -> Option<Stated<Thermometer>> {
    let text = row.text().map(str::to_owned);
    Some(Stated::new(Thermometer { text, within: row.within()? }, row.span))
}

fn densities(row: Matched<'_, say::Densities>) -> Vec<f64> {
    row.all(say::Densities::density).map(|(density, _)| density.real()).collect()
}

fn mean(values: impl Iterator<Item = f64>) -> f64 {
    let (sum, count) = values.fold((0.0, 0.0), |(sum, count), value| (sum + value, count + 1.0));
    sum / count
}

fn measure(row: Matched<'_, say::Measured>) -> ContrastMeasure {
    match (row.slope(), row.stops()) {
        (Some(slope), _) => ContrastMeasure::Slope(slope),
        (None, Some(stops)) => ContrastMeasure::Gradient(stops),
        (None, None) => ContrastMeasure::USUAL,
    }
}

/// Whether the densities fall as the exposure rises, judged by the first and the last third of the steps.
fn falls(steps: &[(f64, f64)]) -> bool {
    let mut sorted = steps.to_vec();
    sorted.sort_by(|one, other| one.0.total_cmp(&other.0));
    let third = sorted.len().div_ceil(3);
    let sum = |part: &mut dyn Iterator<Item = &(f64, f64)>| part.map(|(_, density)| density).sum::<f64>();
    sum(&mut sorted.iter().take(third)) > sum(&mut sorted.iter().rev().take(third))
}
