//! Builds trials and thermometers.

use super::super::error;
use super::exposures::{Exposures, Instrument};
use super::{Builder, named};
use crate::model::{ContrastMeasure, Number, Piece, Stated, Temperature, Thermometer, Time, Trial};
use crate::source::{Diagnostic, Sorted as _, Span};
use crate::trial::Curve;
use crate::vocabulary::{Declared, Lines as _, Matched, Reading, say};

/// `contrast-falls` reports a longer development with less contrast only if the contrast falls by more than this many
/// times the trial's contrast error.
const FALL: f64 = 3.0;

/// The most stops over which a measurement is proposed: more than any film has.
const OVER_MAX: u32 = 25;

/// How the strips of a trial were measured: their exposures, the instrument that read them, and the measure of
/// contrast.
type How<'a> = (Option<&'a Exposures>, Option<&'a Instrument>, ContrastMeasure);

impl Builder<'_> {
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
        let bottle = reading.one_sound::<say::TrialBath>();
        let bottle = bottle.and_then(|row| {
            let bath = self.find_bath(row.said(say::TrialBath::bath)?)?;
            Some(Stated::new(bath, row.span))
        });
        let exposures = reading.one_sound::<say::Exposed>().map(|row| self.exposures(row));
        let reader = match reading.one_sound::<say::ReadBy>() {
            Some(row) => Some(self.find(Declared::Reader, row.said(say::ReadBy::reader)?, |it| &it.readers)?),
            None => None,
        };
        // An error in the line `exposed` is already reported, and the trial is then left out.
        let exposures = exposures.map_or(Some(None), |read| read.map(Some))?;
        let pieces = self.pieces(reading, at, (exposures.as_ref(), reader.as_deref(), measure))?;
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
            bath: bottle,
            agitation,
            tank,
            thermometer,
            measure,
            reading_error: reading_error(reading).or(reader.and_then(|reader| reader.within)),
            wedge_error: exposures.map_or(0.0, |exposures| exposures.within),
            pieces,
        };
        self.contrast_falls(&trial);
        complete.then_some(trial)
    }

    fn pieces(&mut self, reading: &Reading, at: Option<Temperature>, how: How<'_>) -> Option<Vec<Piece>> {
        let mut pieces = Vec::new();
        let mut complete = true;
        for row in reading.rows.iter().filter(|row| row.sound) {
            let piece = if let Some(piece) = row.view::<say::Piece>() {
                self.at((piece.at().or(at), piece.time()), row, reading).zip(piece.time()).map(
                    |(at, time)| Piece {
                        time,
                        at,
                        text: piece.text().map(str::to_owned),
                        contrast: piece.contrast().map(Number::real),
                        curve: None,
                        span: piece.span,
                    },
                )
            } else if let Some(strip) = row.view::<say::StripHeader>() {
                let at = self.at((strip.at().or(at), strip.time()), row, reading);
                at.and_then(|at| self.strip(row, strip, at, how))
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

    /// The temperature of the developer of a piece or strip, which `row` states; reports an error if there is none.
    fn at(
        &mut self,
        (at, time): (Option<Temperature>, Option<Time>),
        row: &Reading,
        trial: &Reading,
    ) -> Option<Temperature> {
        if at.is_none() {
            let word = row.row.word;
            let mut help = Vec::new();
            if let Some(bath) = trial.one_sound::<say::TrialIn>()
                && let Some(solution) = bath.solution()
            {
                let part = bath.part().map(|part| format!(" part {part}")).unwrap_or_default();
                let dilution = bath.dilution().map(|dilution| format!(" {dilution}")).unwrap_or_default();
                help.push(format!(
                    "if all pieces had one temperature, add it to the line of the developer, \
                     such as: in {solution}{part}{dilution} at 20 C"
                ));
            }
            help.extend(time.map(|time| format!("or add it to this line, such as: {word} {time} at 20 C")));
            let message = format!("this {word} does not say how warm the developer was");
            let fault = Diagnostic::error("piece-without-temperature", row.span, message);
            self.report(help.into_iter().fold(fault, Diagnostic::help));
        }
        at
    }

    fn strip(
        &mut self,
        reading: &Reading,
        header: Matched<'_, say::StripHeader>,
        at: Temperature,
        (exposures, reader, measure): How<'_>,
    ) -> Option<Piece> {
        let Some(exposures) = exposures else {
            self.no_wedge(header.span);
            return None;
        };
        let (densities, span) = self.strip_densities(reading, header.span, reader)?;
        let fog = self.strip_fog(reading, header.span, reader)?;
        let count = exposures.logs.len();
        if densities.len() != count {
            let message = format!(
                "the strip has {} densities, and {} has {count} steps",
                densities.len(),
                exposures.what
            );
            let fault =
                error("other-count-of-steps", span, message, "write a density for each step, in order");
            self.report(fault.other(exposures.span, exposures.what));
            return None;
        }
        let steps: Vec<(f64, f64)> = exposures.logs.iter().copied().zip(densities).collect();
        if falls(&steps) {
            let message = "the densities fall where the film got more light";
            let fault = error(
                "wedge-read-backwards",
                span,
                message,
                "the strip was read from the other end: write the numbers in reverse order",
            );
            self.report(fault.other(exposures.span, exposures.what));
            return None;
        }
        let curve = Curve::new(&steps, fog);
        let contrast = curve.as_ref().and_then(|curve| measure.of(curve));
        if contrast.is_none() {
            self.report(too_short(measure, curve.as_ref(), span));
        }
        let contrast = Some(contrast?);
        Some(Piece { time: header.time()?, at, text: None, contrast, curve, span: header.span })
    }

    fn no_wedge(&mut self, span: Span) {
        let message = "this strip does not say through which wedge it was exposed";
        let known = self.scopes.all(span.file, Declared::Wedge).next().map(|(name, _)| name);
        let help = match known {
            Some(wedge) => format!("add to the trial a line such as: exposed by {wedge}"),
            None => "add to the trial the line: exposed by my-wedge".to_owned(),
        };
        let fault = error("strip-without-wedge", span, message, help);
        self.report(match known {
            Some(_) => fault,
            None => fault.help(
                "and declare that wedge: wedge my-wedge {, then a line with the densities of its steps, \
                 such as densities 0.05, 0.20, 0.35, then } alone",
            ),
        });
    }

    fn contrast_falls(&mut self, trial: &Trial) {
        let mut known: Vec<(Temperature, Time, f64, Span)> = Vec::new();
        known.extend(trial.pieces.iter().filter_map(|it| Some((it.at, it.time, it.contrast?, it.span))));
        known.order_by_key(|(at, time, ..)| (*at, *time));
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

pub(super) fn reading_error(reading: &Reading) -> Option<Number> {
    reading.one_sound::<say::ReadingError>().and_then(|row| row.error())
}

/// The error for a strip whose densities cover too little exposure for this measure of contrast.
fn too_short(measure: ContrastMeasure, curve: Option<&Curve>, span: Span) -> Diagnostic {
    let fault = |message: String| Diagnostic::error("curve-too-short", span, message);
    let (ContrastMeasure::Gradient(stops), Some(curve)) = (measure, curve) else {
        let message = format!("these densities cover too little exposure to measure the {}", measure.words());
        return fault(message)
            .help("use a wedge of more steps, such as 21, and add the densities of its other steps");
    };
    if curve.speed_point().is_none() {
        let message = format!(
            "the {} begins at a density of 0.10 above the fog, and this strip has none",
            measure.words()
        );
        return fault(message)
            .help("expose more steps: the lightest at most 0.10 above the fog, and the darkest above that");
    }
    let measurable = |stops: &u32| ContrastMeasure::Gradient(*stops).of(curve).is_some();
    let most = (1..stops.min(OVER_MAX)).rev().find(measurable);
    let message = format!(
        "from a density of 0.10 above the fog on, this strip covers {}, and the {} needs {stops}",
        most.map_or("less than a whole stop".to_owned(), |most| format!(
            "{most} {}",
            if most == 1 { "whole stop" } else { "whole stops" }
        )),
        measure.words()
    );
    let fault = fault(message).help("expose the strip through a wedge of more steps, such as 21");
    match most {
        Some(most) => fault.help(format!("or measure over fewer stops: measure gradient over {most} stops")),
        None => fault,
    }
}

fn measure(row: Matched<'_, say::Measured>) -> ContrastMeasure {
    match (row.slope(), row.stops()) {
        (Some(slope), _) => ContrastMeasure::Slope(slope),
        (None, Some(stops)) => ContrastMeasure::Gradient(stops),
        (None, None) => ContrastMeasure::USUAL,
    }
}

/// Whether the densities fall where the exposure rises: the last third of the steps has a smaller sum than the first.
/// Each step is the logarithm of its exposure and its density.
fn falls(steps: &[(f64, f64)]) -> bool {
    let mut sorted = steps.to_vec();
    sorted.order_by(|one, other| one.0.total_cmp(&other.0));
    let third = sorted.len().div_ceil(3);
    let sum = |part: &mut dyn Iterator<Item = &(f64, f64)>| part.map(|(_, density)| density).sum::<f64>();
    sum(&mut sorted.iter().take(third)) > sum(&mut sorted.iter().rev().take(third))
}
