//! A development chart: times at temperatures, as the film's data give them (R1).

use super::quantity::{Temperature, Time};
use crate::source::Span;

/// One line of a chart.
#[derive(Debug, Clone, Copy)]
pub struct Point {
    /// At this temperature
    pub temperature: Temperature,
    /// this time.
    pub time: Time,
    /// Where it says so.
    pub span: Span,
}

/// Wherever they are written.
impl PartialEq for Point {
    fn eq(&self, other: &Point) -> bool {
        (self.temperature, self.time) == (other.temperature, other.time)
    }
}

impl Eq for Point {}

/// Points in the order of their temperatures, at least two, none twice, no time rising.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Chart {
    points: Vec<Point>,
}

impl Chart {
    /// Takes the points in any order; the check has seen to what the type promises.
    #[must_use]
    pub fn new(mut points: Vec<Point>) -> Chart {
        points.sort_by_key(|point| point.temperature);
        Chart { points }
    }

    /// The points, coldest first.
    #[must_use]
    pub fn points(&self) -> &[Point] {
        &self.points
    }

    /// The coldest and the warmest temperature; `None` only if there is no point.
    #[must_use]
    pub fn ends(&self) -> Option<(Temperature, Temperature)> {
        Some((self.points.first()?.temperature, self.points.last()?.temperature))
    }
}
