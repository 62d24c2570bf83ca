//! Evaluates the readings of a trial: the contrast of each strip, the times for contrasts, and the speed.

mod slips;
mod speed;
mod table;

pub use speed::{Speed, UNDER_METER};
pub use table::Exposure;

use crate::model::{ContrastMeasure, Slope, Temperature, Time};
use crate::source::{Diagnostic, FileId, Sorted as _, Sources, Span};
use crate::trial::{Curve, OffScale, STOP, Scale, Times, contrast_for};
use slips::Densities;
use table::Column;

/// What to do with the readings.
#[derive(Debug, Clone)]
pub struct Asked {
    /// The contrast to measure.
    pub measure: ContrastMeasure,
    /// How far a density may be off; `None` if not stated.
    pub within: Option<f64>,
    /// The temperature of strips that state none.
    pub usual: Option<Temperature>,
    /// The contrasts for which times are asked; if empty, those for N, N-1 and N+1.
    pub contrasts: Vec<f64>,
    /// The temperatures for which times are asked; if empty, those of the strips.
    pub at: Vec<Temperature>,
    /// Whether times outside the tested range are asked for.
    pub beyond: bool,
    /// The exposure index that was set on the meter. The rows of the table count stops from the reading of this meter.
    pub index: Option<u32>,
}

/// The result of a trial with readings.
#[derive(Debug)]
pub struct Evaluation {
    /// How the table states the exposure of a step.
    pub exposure: Exposure,
    /// The kind of contrast that was asked for. If `frames` is known, contrasts are those of two frames instead.
    pub measure: ContrastMeasure,
    /// The difference in log exposure between the two steps (frames) of a strip; `None` if a strip has more than two.
    pub frames: Option<f64>,
    /// The strips, in the order of the columns.
    pub strips: Vec<StripResult>,
    /// The strips with a contrast, from which times are calculated; `None` if no strip has a contrast.
    pub times: Option<Times>,
    /// The times for the wanted contrasts.
    pub wanted: Vec<Wanted>,
    /// The speed by the criterion of ISO 6, or the reason why there is none; `None` if no strip has a speed point.
    pub speed: Option<Speed>,
    /// How far a density may be off.
    pub within: f64,
    /// How far a contrast may be off if each density may be off by `within`.
    pub contrast_within: f64,
    /// Whether `within` was assumed, because it was not stated.
    pub is_assumed: bool,
    /// Warnings about readings that look like slips.
    pub slips: Vec<Diagnostic>,
}

impl Evaluation {
    /// The largest number of stops, from 2 to 15, over which the gradient of every curve can be measured; `None` if a
    /// curve is too short even for two stops.
    pub fn stops_of_all(&self) -> Option<u32> {
        let has_all = |stops: &u32| {
            let mut curves = self.strips.iter().filter_map(|strip| strip.curve.as_ref());
            curves.all(|curve| ContrastMeasure::Gradient(*stops).of(curve).is_some())
        };
        (2..=15).rev().find(has_all)
    }
}

/// The result for readings of a phone or a scanner without a step of known density in the picture: only the order of
/// the strips.
#[derive(Debug)]
pub struct Order {
    /// The times, the softest strip first.
    pub softest_first: Vec<(Time, Temperature)>,
}

/// What a table of readings gives.
#[derive(Debug)]
pub enum Outcome {
    /// Densities, and the results calculated from them.
    Evaluated(Box<Evaluation>),
    /// Only the order of the strips.
    Ordered(Order),
}

/// The result of one strip.
#[derive(Debug)]
pub struct StripResult {
    /// The development time.
    pub time: Time,
    /// The temperature.
    pub at: Temperature,
    /// The density of base and fog, if read.
    pub fog: Option<f64>,
    /// The number of readings of base and fog.
    pub fogs: f64,
    /// The characteristic curve, if there are enough steps.
    pub curve: Option<Curve>,
    /// The contrast; `None` if the steps of the strip do not reach far enough to measure it.
    pub contrast: Option<f64>,
}

impl StripResult {
    /// A slope of this strip's curve, such as gamma.
    pub fn slope(&self, slope: Slope) -> Option<f64> {
        ContrastMeasure::Slope(slope).of(self.curve.as_ref()?)
    }
}

/// A contrast for which a time is asked, and the time at each temperature.
#[derive(Debug)]
pub struct Wanted {
    /// `N-1`, `N` or `N+1`; empty if the user asked for this contrast.
    pub name: &'static str,
    /// The contrast.
    pub contrast: f64,
    /// The exposure index for this contrast, if the strips are exposure brackets from which it can be calculated.
    pub index: Option<f64>,
    /// The answer at each temperature.
    pub times: Vec<(Temperature, Result<crate::trial::Answer, crate::trial::NoTime>)>,
}

/// The names of the errors about a table of readings, and their causes.
pub const ERRORS: &[(&str, &str)] = &[
    ("readings-empty", "a table of readings without rows"),
    ("readings-heading", "a table of readings whose first cell does not say what its rows are"),
    ("readings-time", "a column of readings without a development time"),
    ("readings-temperature", "a strip without its temperature"),
    ("readings-row", "a row of readings that is neither fog nor a step"),
    ("readings-number", "a reading that is no number"),
    ("readings-cells", "a row with more readings than there are strips"),
    ("readings-too-many", "a table with too many strips or rows"),
    ("readings-density", "a reading that is no density"),
    ("readings-scale", "known steps of a picture that are no scale"),
    ("readings-off-scale", "a reading outside the known steps of its picture"),
    ("readings-slip", "a density that falls where the exposure rises"),
    ("readings-backwards", "a strip whose densities were read from the other end"),
    ("readings-no-fog", "a strip without a reading of its base and fog"),
    ("readings-fog", "a reading of base and fog that does not fit the others"),
    ("readings-contrast-falls", "a contrast that falls although the development is longer"),
];

/// The error of a density if none is stated: `DENSITOMETER` for a densitometer, and `SCAN` for a scan with known steps
/// in it (no source looked up).
const DENSITOMETER: f64 = 0.01;
const SCAN: f64 = 0.02;
/// The least difference of two frames in log exposure: a third of a stop.
const RANGE_MIN: f64 = 0.1;
const DENSITY_MAX: f64 = 6.0;
/// How far a density may be below 0, because the instrument may be set to 0 on the film.
const BELOW_ZERO: f64 = 0.05;

/// Evaluates a table of readings.
///
/// # Errors
/// Everything that is wrong with the table.
pub fn evaluate(sources: &Sources, file: FileId, asked: &Asked) -> Result<Outcome, Vec<Diagnostic>> {
    let table = table::read(sources, file, asked.usual)?;
    if let (Some(_), Some(column)) =
        (asked.index.filter(|_| table.exposure != Exposure::Stops), table.columns.first())
    {
        let message = "an exposure index needs rows in stops from the meter's reading";
        let help = "leave out --index; or make a bracket, and begin the first row with stops";
        return Err(vec![Diagnostic::error("readings-heading", column.span, message).help(help)]);
    }
    let is_scanned = table.columns.iter().any(|column| !column.known.is_empty());
    if !is_scanned && are_readings(&table.columns) {
        return Ok(Outcome::Ordered(ordered(&table.columns)));
    }
    let within = asked.within.unwrap_or(if is_scanned { SCAN } else { DENSITOMETER });
    let (mut errors, mut slips) = (Vec::new(), Vec::new());
    let densities = |column| densities(column, &mut errors, &mut slips);
    let read: Vec<Densities<'_>> = table.columns.iter().filter_map(densities).collect();
    errors.extend(slips::backwards(&read));
    if !errors.is_empty() {
        return Err(errors);
    }
    let frames = frames(&table.columns);
    let strips: Vec<StripResult> = read.iter().map(|own| strip(own, frames, asked.measure)).collect();
    let contrast_within = match frames {
        Some(range) => libm::sqrt(2.0) * within / range,
        None => asked.measure.error(within),
    };
    slips.extend(slips::slips(&read, &strips, (within, contrast_within)));
    let known = strips.iter().filter_map(|strip: &StripResult| {
        let (minutes, celsius) = (strip.time.seconds() / 60.0, strip.at.celsius());
        Some(crate::trial::Strip { minutes, celsius, contrast: strip.contrast? })
    });
    let known: Vec<crate::trial::Strip> = known.collect();
    let times = (!known.is_empty()).then(|| Times::new(known, contrast_within));
    let temperatures = strips.iter().filter(|strip| strip.contrast.is_some()).map(|strip| strip.at);
    let at = if asked.at.is_empty() { each_once(temperatures) } else { asked.at.clone() };
    let wanted = times.as_ref().map(|times| wanted((times, &strips), asked, frames.is_some(), &at));
    let speed = speed::of(table.exposure, &strips, (asked.index, within));
    Ok(Outcome::Evaluated(Box::new(Evaluation {
        exposure: table.exposure,
        measure: asked.measure,
        frames,
        strips,
        times,
        wanted: wanted.unwrap_or_default(),
        speed,
        within,
        contrast_within,
        is_assumed: asked.within.is_none(),
        slips,
    })))
}

/// Whether most numbers of a table are readings of a phone or a scanner, because they are too large for densities.
fn are_readings(columns: &[Column]) -> bool {
    let all = || columns.iter().flat_map(|column| &column.steps);
    2 * all().filter(|(_, reading, _)| *reading > DENSITY_MAX).count() > all().count()
}

/// The strips in the order of their contrast. The contrast is judged by the ratio of the readings at the least and the
/// greatest exposure.
fn ordered(columns: &[Column]) -> Order {
    let ratio = |column: &Column| {
        let lightest = column.steps.iter().min_by(|one, other| one.0.total_cmp(&other.0))?;
        let darkest = column.steps.iter().max_by(|one, other| one.0.total_cmp(&other.0))?;
        (darkest.1 > 0.0).then(|| lightest.1 / darkest.1)
    };
    let mut known: Vec<(f64, (Time, Temperature))> =
        columns.iter().filter_map(|column| Some((ratio(column)?, (column.time, column.at)))).collect();
    known.order_by(|one, other| one.0.total_cmp(&other.0));
    Order { softest_first: known.into_iter().map(|(_, strip)| strip).collect() }
}

fn densities<'a>(
    column: &'a Column,
    errors: &mut Vec<Diagnostic>,
    slips: &mut Vec<Diagnostic>,
) -> Option<Densities<'a>> {
    let scale = if column.known.is_empty() { None } else { Some(Scale::new(column.known.clone())) };
    if matches!(scale, Some(None)) {
        let message = format!("the known steps in the picture of {} are no scale", column.time);
        let help = "give at least two known steps; a denser one must read darker";
        errors.push(Diagnostic::error("readings-scale", column.span, message).help(help));
        return None;
    }
    let scale = scale.flatten();
    let mut density = |reading: f64, span: Span| match &scale {
        None if (-BELOW_ZERO..=DENSITY_MAX).contains(&reading) => Some(reading),
        None => {
            let message = format!("no density of the strip of {} is {reading}", column.time);
            let help = "see whether the point is missing, as in 117 for 1.17; a density is from 0 to 6";
            errors.push(Diagnostic::error("readings-density", span, message).help(help));
            None
        }
        Some(scale) => {
            scale.density(reading).map_err(|off| slips.push(off_scale(column, reading, span, off))).ok()
        }
    };
    let fog = column.fog.iter().filter_map(|(reading, span)| density(*reading, *span)).collect();
    let steps = column.steps.iter();
    let mut steps: Vec<(f64, f64, Span)> =
        steps.filter_map(|(log, reading, span)| Some((*log, density(*reading, *span)?, *span))).collect();
    steps.order_by(|one, other| one.0.total_cmp(&other.0));
    Some(Densities { column, fog, steps })
}

fn off_scale(column: &Column, reading: f64, span: Span, off: OffScale) -> Diagnostic {
    let side = if off == OffScale::Lighter { "lighter than the thinnest" } else { "darker than the densest" };
    let message =
        format!("{reading} is {side} known step in the picture of {}, and is left out", column.time);
    let help = "take a picture with a wedge that reaches further";
    Diagnostic::warning("readings-off-scale", span, message).help(help)
}

/// The difference in log exposure between the two frames of a strip; `None` if a strip has more than two.
fn frames(columns: &[Column]) -> Option<f64> {
    let has_more = columns.iter().any(|column| column.steps.len() > 2);
    let range = |column: &Column| match column.steps.as_slice() {
        [one, other] => Some((one.0 - other.0).abs()).filter(|range| *range >= RANGE_MIN),
        _ => None,
    };
    columns.iter().find_map(range).filter(|_| !has_more)
}

/// The result of a strip. With two frames, the contrast is the difference of their densities divided by the difference
/// of their log exposures.
fn strip(read: &Densities<'_>, frames: Option<f64>, measure: ContrastMeasure) -> StripResult {
    let (time, at) = (read.column.time, read.column.at);
    let count = read.fog.iter().map(|_| 1.0).sum::<f64>();
    let fog = (!read.fog.is_empty()).then(|| read.fog.iter().sum::<f64>() / count);
    if let Some(range) = frames {
        let contrast = match read.steps.as_slice() {
            [thin, dense] if (dense.0 - thin.0 - range).abs() < 1e-9 => Some((dense.1 - thin.1) / range),
            _ => None,
        };
        return StripResult { time, at, fog, fogs: count, curve: None, contrast };
    }
    let steps: Vec<(f64, f64)> = read.steps.iter().map(|(log, density, _)| (*log, *density)).collect();
    let curve = fog.and_then(|fog| Curve::new(&steps, fog));
    let contrast = curve.as_ref().and_then(|curve| measure.of(curve));
    StripResult { time, at, fog, fogs: count, curve, contrast }
}

/// The times for the wanted contrasts. The usual contrasts N, N-1 and N+1 are average gradients, so they are not used
/// if another kind of contrast is measured.
fn wanted(
    (times, strips): (&Times, &[StripResult]),
    asked: &Asked,
    has_frames: bool,
    at: &[Temperature],
) -> Vec<Wanted> {
    let usual = [("N", 7.0), ("N-1", 8.0), ("N+1", 6.0)].map(|(name, stops)| (name, contrast_for(stops)));
    let is_gradient = has_frames || matches!(asked.measure, ContrastMeasure::Gradient(_));
    let mut contrasts: Vec<(&'static str, f64)> =
        asked.contrasts.iter().map(|contrast| ("", *contrast)).collect();
    if contrasts.is_empty() && is_gradient {
        contrasts.extend(usual);
    }
    let answer = |contrast: f64| {
        at.iter().map(|at| (*at, times.minutes(contrast, at.celsius(), asked.beyond))).collect::<Vec<_>>()
    };
    let index = |contrast: f64| asked.index.and_then(|index| speed::index_at(strips, contrast, index));
    let wanted =
        |(name, contrast)| Wanted { name, contrast, index: index(contrast), times: answer(contrast) };
    contrasts.into_iter().map(wanted).collect()
}

fn each_once(temperatures: impl Iterator<Item = Temperature>) -> Vec<Temperature> {
    let mut all: Vec<Temperature> = temperatures.collect();
    all.order_by(Ord::cmp);
    all.dedup();
    all
}

/// The stops in a range of log exposure.
pub fn stops(range: f64) -> f64 {
    range / STOP
}
