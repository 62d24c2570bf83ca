//! A trial of a developer: pieces of one film that were developed for several times.

use std::sync::Arc;

use super::agitation::Scheme;
use super::darkroom::KeptBath;
use super::date::Date;
use super::quantity::{Difference, Number, Temperature, Time};
use super::recipe::{Film, Stated};
use super::solution::{Dilution, Solution};
use super::tank::Tank;
use super::words::words;
use crate::source::{Sorted as _, Span};
use crate::trial::{Curve, STOP, Strip, Times};

/// A trial of a film in a developer: `trial saltmarsh-mq { … }`.
#[derive(Debug, Clone)]
pub struct Trial {
    /// The trial's name.
    pub name: String,
    /// The trial's title, or else the name.
    pub title: String,
    /// The span of the trial's header line.
    pub span: Span,
    /// The day of the trial, if stated.
    pub date: Option<Date>,
    /// The film that was tested.
    pub film: Arc<Film>,
    /// The developer that was tested.
    pub solution: Arc<Solution>,
    /// The name of the bottle from which the bath was mixed; `None` if it was mixed from all bottles of the developer.
    pub part: Option<String>,
    /// The dilution of the developer.
    pub dilution: Dilution,
    /// The kept bottle from which the developer was taken, if any.
    pub bath: Option<Stated<Arc<KeptBath>>>,
    /// The agitation during the development, if stated.
    pub agitation: Option<Stated<Scheme>>,
    /// The tank in which the pieces were developed, if stated.
    pub tank: Option<Arc<Tank>>,
    /// The thermometer that was used, if stated.
    pub thermometer: Option<Stated<Thermometer>>,
    /// The measure of contrast, such as gamma.
    pub measure: ContrastMeasure,
    /// The reading error of a density; `None` if it is stated neither by the trial nor for its densitometer or scanner.
    pub reading_error: Option<Number>,
    /// The error of a stated density of the step wedge; 0 if not stated.
    pub wedge_error: f64,
    /// The pieces, in the order of the file; at least one.
    pub pieces: Vec<Piece>,
}

/// A thermometer, and how exact it is.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Thermometer {
    /// A description of the thermometer, if stated.
    pub text: Option<String>,
    /// The greatest error of a reading.
    pub within: Difference,
}

/// A piece of the film, developed for one time.
#[derive(Debug, Clone)]
pub struct Piece {
    /// The development time of this piece.
    pub time: Time,
    /// The temperature of the developer.
    pub at: Temperature,
    /// What the piece looks like, if stated.
    pub text: Option<String>,
    /// The contrast of the piece, as stated or as measured from its curve; `None` without either.
    pub contrast: Option<f64>,
    /// The characteristic curve (density against exposure), if the piece was exposed through a step wedge.
    pub curve: Option<Curve>,
    /// The span of the line that states the piece.
    pub span: Span,
}

words! {
    /// A measure of contrast that is a slope of the characteristic curve.
    pub enum Slope {
        /// The slope of the straight part.
        Gamma = "gamma",
        /// The contrast index: the slope of a line through two points of the curve.
        Index = "index",
    }
}

words! {
    /// How far the exposures of a bracket are apart.
    pub enum BracketStep {
        Whole = "stops",
        Half = "half-stops",
        Third = "third-stops",
    }
}

impl BracketStep {
    /// How many of these steps make a stop.
    pub fn in_a_stop(self) -> u32 {
        match self {
            BracketStep::Whole => 1,
            BracketStep::Half => 2,
            BracketStep::Third => 3,
        }
    }
}

words! {
    /// The contrast that a recipe wants, named after the scene that it suits.
    pub enum Aim {
        /// A scene of seven stops.
        Normal = "normal",
        /// A scene of eight stops.
        Softer = "n-minus-1",
        /// A scene of six stops.
        Harder = "n-plus-1",
    }
}

/// Which contrast a trial measures.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum ContrastMeasure {
    /// The average gradient from the speed point over this many stops.
    Gradient(u32),
    /// A slope, such as gamma.
    Slope(Slope),
}

impl ContrastMeasure {
    /// The average gradient over a normal scene.
    pub const USUAL: ContrastMeasure = ContrastMeasure::Gradient(7);

    /// The contrast of a curve; `None` if the curve is too short for it.
    pub fn of(self, curve: &Curve) -> Option<f64> {
        match self {
            ContrastMeasure::Gradient(stops) => curve.gradient(STOP * f64::from(stops)),
            ContrastMeasure::Slope(Slope::Gamma) => curve.gamma(),
            ContrastMeasure::Slope(Slope::Index) => curve.contrast_index(),
        }
    }

    /// The error of a contrast if each density is off by `density`. An average gradient comes from two densities, and
    /// their errors add up as squares. The other slopes come from more densities over about seven stops. They count as
    /// a gradient over seven stops.
    pub fn error(self, density: f64) -> f64 {
        let stops = match self {
            ContrastMeasure::Gradient(stops) => f64::from(stops),
            ContrastMeasure::Slope(_) => 7.0,
        };
        libm::sqrt(2.0) * density / (STOP * stops)
    }

    /// The measure in words, such as `average gradient over 7 stops`.
    pub fn words(self) -> String {
        match self {
            ContrastMeasure::Gradient(stops) => format!("average gradient over {stops} stops"),
            ContrastMeasure::Slope(Slope::Gamma) => "gamma".to_owned(),
            ContrastMeasure::Slope(Slope::Index) => "contrast index".to_owned(),
        }
    }
}

impl Aim {
    /// The stops of the scene.
    pub fn stops(self) -> f64 {
        match self {
            Aim::Normal => 7.0,
            Aim::Softer => 8.0,
            Aim::Harder => 6.0,
        }
    }
}

/// The word that marks the piece that was chosen by eye.
pub const CHOSEN: &str = "right";
/// The reading error of a density if the trial states none: that of a scan with a wedge in it. No source was
/// looked up.
const READING_ERROR: f64 = 0.02;

impl Trial {
    /// The pieces that the user marked as right by eye.
    pub fn chosen(&self) -> impl Iterator<Item = &Piece> {
        self.pieces.iter().filter(|piece| piece.text.as_deref() == Some(CHOSEN))
    }

    /// The error of a contrast, from the reading error and the error of the wedge. The error of the wedge counts like a
    /// reading error. This is a little too much, because the density of the film changes less than that of the wedge.
    pub fn contrast_error(&self) -> f64 {
        let reading = self.reading_error.map_or(READING_ERROR, Number::real);
        self.measure.error(libm::hypot(reading, self.wedge_error))
    }

    /// The pieces with a contrast, from which development times are calculated; `None` without such a piece.
    pub fn times(&self) -> Option<Times> {
        let strip = |piece: &Piece| {
            let (minutes, celsius) = (piece.time.seconds() / 60.0, piece.at.celsius());
            Some(Strip { minutes, celsius, contrast: piece.contrast? })
        };
        let strips: Vec<Strip> = self.pieces.iter().filter_map(strip).collect();
        (!strips.is_empty()).then(|| Times::new(strips, self.contrast_error()))
    }

    /// The times of all pieces at the temperature of this piece, shortest first, each once.
    pub fn tried_with(&self, piece: &Piece) -> Vec<Time> {
        let mut times: Vec<Time> =
            self.pieces.iter().filter(|other| other.at == piece.at).map(|other| other.time).collect();
        times.order_by(Ord::cmp);
        times.dedup();
        times
    }
}

/// The trial by which the time of a step was calculated or chosen.
#[derive(Debug, Clone)]
pub struct RestsOn {
    /// The trial of which the step uses the results.
    pub trial: Arc<Trial>,
    /// The contrast that the step wants; `None` if the time was chosen by eye.
    pub contrast: Option<f64>,
    /// The span of the statement that names the trial.
    pub span: Span,
}
