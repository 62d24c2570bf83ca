//! Builds step wedges and the instruments that read densities, and calculates the exposures and densities of a trial's
//! strips with them.

use std::sync::Arc;

use super::super::error;
use super::Builder;
use super::trials::reading_error;
use crate::model::Number;
use crate::source::{Diagnostic, Span};
use crate::trial::{OffScale, STOP, Scale};
use crate::vocabulary::{Declared, Lines as _, Matched, Reading, say};

#[derive(Debug, Clone)]
pub(super) struct Wedge {
    span: Span,
    densities: Vec<f64>,
    within: f64,
}

/// A densitometer, scanner or phone that reads densities, declared as `reader flatbed { … }`.
#[derive(Debug, Clone)]
pub(super) struct Instrument {
    span: Span,
    pub(super) within: Option<Number>,
    scale: Option<Scale>,
}

pub(super) struct Exposures {
    /// What made the exposures, for messages: `the wedge` or `the bracket`.
    pub(super) what: &'static str,
    pub(super) span: Span,
    /// The base-10 logarithm of the relative exposure of each step of the wedge or bracket, in the order of the strip's
    /// densities.
    pub(super) logs: Vec<f64>,
    /// The greatest error of the densities that are stated for the wedge, as a density; 0 for a bracket.
    pub(super) within: f64,
}

impl Builder<'_> {
    pub(super) fn wedge(&mut self, reading: &Reading) -> Option<Wedge> {
        let row = reading.one_sound::<say::WedgeDensities>()?;
        let densities: Vec<f64> =
            row.all(say::WedgeDensities::density).map(|(density, _)| density.real()).collect();
        if densities.len() < 3 {
            let message = "a wedge has at least three steps";
            self.error("wedge-too-short", row.span, message, "write the densities of all steps");
            return None;
        }
        let within = reading_error(reading).map_or(0.0, Number::real);
        reading.is_sound().then_some(Wedge { span: reading.span, densities, within })
    }

    pub(super) fn instrument(&mut self, reading: &Reading) -> Option<Instrument> {
        let known = reading.each::<say::Known>().filter(|row| row.sound);
        let known: Vec<(f64, f64, Span)> = known
            .filter_map(|row| Some((row.density()?.real(), row.brightness()?.real(), row.span)))
            .collect();
        let scale = Scale::new(known.iter().map(|(density, reading, _)| (*density, *reading)).collect());
        if known.len() > 1 && scale.is_none() {
            no_scale(&known).into_iter().for_each(|fault| self.report(fault));
            return None;
        }
        let within = reading_error(reading);
        reading.is_sound().then_some(Instrument { span: reading.span, within, scale })
    }

    pub(super) fn exposures(&mut self, row: Matched<'_, say::Exposed>) -> Option<Exposures> {
        if let Some(name) = row.said(say::Exposed::wedge) {
            let wedge: Arc<Wedge> = self.find(Declared::Wedge, name, |it| &it.wedges)?;
            // A denser step of the wedge passes less light, so the logarithm of its exposure is minus its density.
            let logs = wedge.densities.iter().map(|density| -density).collect();
            return Some(Exposures { what: "the wedge", span: wedge.span, logs, within: wedge.within });
        }
        let (parts, under, over) = (row.step()?.in_a_stop(), row.under()?, row.over()?);
        let exposure = |at: u32| STOP * (f64::from(at) / f64::from(parts) - f64::from(under));
        let logs = (0..=(under.saturating_add(over)).saturating_mul(parts)).take(STEPS_MAX).map(exposure);
        Some(Exposures { what: "the bracket", span: row.span, logs: logs.collect(), within: 0.0 })
    }

    /// The densities of a strip, stated directly or converted from the readings of an instrument, and the span of their
    /// line. `None` after an error.
    pub(super) fn strip_densities(
        &mut self,
        reading: &Reading,
        header: Span,
        reader: Option<&Instrument>,
    ) -> Option<(Vec<f64>, Span)> {
        let densities = reading.one_sound::<say::Densities>();
        self.is_twice(
            densities.map(|row| row.span),
            reading.one_sound::<say::Readings>().map(|row| row.span),
            ("densities", "readings"),
        );
        if let Some(row) = densities {
            let densities = row.all(say::Densities::density).map(|(density, _)| density.real());
            return Some((densities.collect(), row.span));
        }
        let Some(row) = reading.one_sound::<say::Readings>() else {
            let help = "add the densities of its steps, such as: densities 0.28, 0.29, 0.31";
            self.missing(reading, header, ("densities", help));
            return None;
        };
        let all = row.all(say::Readings::brightness).map(|(reading, span)| (reading.real(), span));
        Some((self.read_by(reader, all.collect(), row.span)?, row.span))
    }

    /// The density of a strip where no light fell (base plus fog), as the mean of the stated values. `None` after an
    /// error.
    pub(super) fn strip_fog(
        &mut self,
        reading: &Reading,
        header: Span,
        reader: Option<&Instrument>,
    ) -> Option<f64> {
        let fog = reading.one_sound::<say::Fog>();
        let clear = reading.one_sound::<say::Clear>().map(|row| row.span);
        self.is_twice(fog.map(|row| row.span), clear, ("fog", "clear"));
        if let Some(row) = fog {
            return Some(mean(&row.all(say::Fog::fog).map(|(fog, _)| fog.real()).collect::<Vec<_>>()));
        }
        let Some(row) = reading.one_sound::<say::Clear>() else {
            self.missing(reading, header, ("fog", "add the density where no light fell, such as: fog 0.28"));
            return None;
        };
        let all = row.all(say::Clear::brightness).map(|(reading, span)| (reading.real(), span));
        Some(mean(&self.read_by(reader, all.collect(), row.span)?))
    }

    fn is_twice(&mut self, density: Option<Span>, reading: Option<Span>, (first, second): (&str, &str)) {
        if let Some((density, reading)) = density.zip(reading) {
            let message = format!("'{first}' and '{second}' state the same, as a density and as a reading");
            let help = "keep the line that you measured and remove the other";
            let fault = error("density-and-reading", reading, message, help).label("as a reading");
            self.report(fault.other(density, "as a density"));
        }
    }

    fn missing(&mut self, reading: &Reading, header: Span, (what, help): (&str, &str)) {
        if reading.block_sound {
            self.error("missing-statement", header, format!("this strip has no '{what}'"), help);
        }
    }

    /// Converts the readings of an instrument to densities, by the known densities that the instrument declares. `None`
    /// after an error.
    fn read_by(
        &mut self,
        reader: Option<&Instrument>,
        readings: Vec<(f64, Span)>,
        place: Span,
    ) -> Option<Vec<f64>> {
        if let Some(reader) = reader.filter(|reader| reader.scale.is_none()) {
            let message = "these readings need a reader with two known densities";
            let help = "add to the reader a line for each density that you know, such as: known 0.35 26900";
            let fault = error("readings-without-reader", place, message, help);
            self.report(fault.other(reader.span, "the reader"));
            return None;
        }
        let Some((reader, scale)) = reader.and_then(|reader| Some((reader, reader.scale.as_ref()?))) else {
            let message = "these readings need a 'reader': a scanner or a phone with two known densities";
            let help = "declare it: a line 'reader flatbed {', a line for each density that you know, such as \
                        'known 0.35 26900', and a line with } alone";
            let fault = error("readings-without-reader", place, message, help);
            self.report(fault.help("then add to the trial: read by flatbed"));
            return None;
        };
        let mut densities = Vec::new();
        for (reading, span) in &readings {
            match scale.density(*reading) {
                Ok(density) => densities.push(density),
                Err(off) => {
                    let side = match off {
                        OffScale::Lighter => "lighter",
                        OffScale::Darker => "darker",
                    };
                    let message = format!("{reading} is {side} than every known density of the reader");
                    let help =
                        format!("add to the reader a {side} density that you know, and its reading: known …");
                    self.report(
                        error("reading-off-scale", *span, message, help).other(reader.span, "the reader"),
                    );
                }
            }
        }
        (densities.len() == readings.len()).then_some(densities)
    }
}

/// The most steps of exposure in a bracket.
const STEPS_MAX: usize = 200;

fn mean(values: &[f64]) -> f64 {
    let (sum, count) = values.iter().fold((0.0, 0.0), |(sum, count), value| (sum + value, count + 1.0));
    sum / count
}

/// The error if a greater known density does not have a smaller reading; otherwise `None`. It marks the first two lines
/// that contradict each other.
fn no_scale(known: &[(f64, f64, Span)]) -> Option<Diagnostic> {
    let contradicts = |one: &(f64, f64, Span), other: &(f64, f64, Span)| {
        one.0 >= other.0 && other.1 <= one.1 || one.0 <= other.0 && one.1 <= other.1
    };
    let (first, second) = known.iter().enumerate().find_map(|(at, second)| {
        let first = known.get(..at)?.iter().find(|first| contradicts(first, second))?;
        Some((first, second))
    })?;
    let fault = |span, message: String, help| error("known-steps-without-order", span, message, help);
    if first.0.total_cmp(&second.0).is_eq() {
        let message = format!("the density {} is stated twice", first.0);
        let fault = fault(second.2, message, "keep one of the two lines and remove the other");
        return Some(fault.other(first.2, "the first"));
    }
    let (light, dark) = if first.0 < second.0 { (first, second) } else { (second, first) };
    let message = format!("density {} is darker than {}, but its reading is not lower", dark.0, light.0);
    let help =
        "a darker density has a lower reading: correct one of the two lines, or exchange their readings";
    Some(fault(dark.2, message, help).label("the darker density").other(light.2, "the lighter density"))
}
