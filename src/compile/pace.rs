//! R5 as a table, for a page that calculates the rest of a step itself after a temperature was read again.

use super::reread::Law;
use super::schedule::Schedule;
use crate::model::{Difference, Temperature};

/// Neighbouring rows of the table are at most 0.5 °C apart. A cubic interpolation between the rows is then exact to a
/// millisecond.
const APART: Difference = Difference { base: 4500 };
/// Without a chart, the table reaches from 10 °C below the temperature on the card to 10 °C above.
const REACH: Difference = Difference { base: 90_000 };

/// How fast a step progresses at each temperature of its bath.
#[derive(Debug, Clone)]
pub struct Pace {
    /// The rows of the table, the coldest first.
    pub knots: Vec<Knot>,
    /// The schedule in which the step has the longest duration of all temperatures in the table.
    pub longest: Schedule,
}

/// A row of the table: how fast the step progresses at one temperature.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Knot {
    /// The temperature of the bath in this row.
    pub at: Temperature,
    /// The fraction of the step that one second at this temperature completes.
    pub part: f64,
    /// The integral of `part` over the temperature in °C, from the first row to this row. In a bath that drifts evenly
    /// from one row to another, the mean fraction per second is the difference of the two rows' `sum`, divided by the
    /// difference of their temperatures.
    pub sum: f64,
}

impl Schedule {
    /// How fast the step with this index progresses; `None` if its time does not depend on the temperature.
    pub fn pace(&self, index: usize) -> Option<Pace> {
        let step = self.steps.get(index).filter(|step| step.decision.is_none() && step.bath.is_some())?;
        let written = self.written(step)?;
        let (law, from) = (Law::of(written, step)?, step.temperature?);
        // The factor by which the step takes longer than its chart or coefficient says, as in a bath that has treated
        // film (rule R13).
        let longer = step.duration.seconds() / law.seconds(from, step.ending.unwrap_or(from))?;
        let (mut knots, mut sum): (Vec<Knot>, f64) = (Vec::new(), 0.0);
        for at in temperatures(&law, from) {
            if let Some(Knot { at: before, .. }) = knots.last() {
                sum += at.above(*before).celsius() / (longer * law.seconds(*before, at)?);
            }
            knots.push(Knot { at, part: 1.0 / (longer * law.seconds(at, at)?), sum });
        }
        let slowest = knots.iter().map(|knot| knot.part).fold(f64::INFINITY, f64::min);
        let longest = super::time::to_second(1.0 / slowest + 1.0);
        let longest = self.lasting(index, written, longest.max(step.duration))?;
        Some(Pace { knots, longest })
    }
}

/// The temperatures of the table: the points of the chart, or else 10 °C below and above `from`; and temperatures
/// between these, at most 0.5 °C apart.
fn temperatures(law: &Law<'_>, from: Temperature) -> Vec<Temperature> {
    let points = match law {
        Law::Chart(chart) => chart.points().iter().map(|point| point.temperature).collect(),
        Law::Rate { .. } => {
            let down = Difference { base: -REACH.base };
            vec![from.plus(down), from.plus(REACH)]
        }
    };
    let between = points.iter().zip(points.iter().skip(1)).flat_map(|(cold, warm)| {
        let width = warm.above(*cold).base;
        let pieces = (width + APART.base - 1) / APART.base;
        (0..pieces).map(move |piece| cold.plus(Difference { base: width * piece / pieces }))
    });
    between.chain(points.last().copied()).collect()
}
