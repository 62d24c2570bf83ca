//! R5. The rest of a step after the temperature of its bath was read again. The part that is done counts with the
//! temperatures that were read, and only the remaining time is calculated.

use super::clock::FillAndDrain;
use super::legs::Leg;
use super::schedule::{PlannedStep, Schedule};
use super::step::liquid_events;
use super::time::{drifting, drifting_at_rate, to_second};
use crate::model::{Chart, Difference, Duration, Quickening, Step, Temperature, Time};

/// A remaining time that changes by less than this percentage is left as it is.
const LEAST_CHANGE: i64 = 5;

/// A temperature that was read in the bath of a step.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Reading {
    /// When the temperature was read, on the clock of the step.
    pub at: Time,
    /// The temperature that was read.
    pub temperature: Temperature,
}

/// What a new reading of the temperature changes.
#[derive(Debug, Clone)]
pub enum Reread {
    /// The step ends at another time, as in this new schedule.
    Changed(Box<Schedule>),
    /// The remaining time changes by less than 5 %, so it is left as it is.
    Small,
    /// The time of the step does not depend on the temperature.
    Fixed,
    /// The temperature is outside the chart, whose coldest and warmest points are given here.
    Outside(Temperature, Temperature),
}

/// The rule that gives the time of a step at a temperature: its chart, or a coefficient.
pub(super) enum Law<'a> {
    Chart(&'a Chart),
    Rate { time: Time, holds_at: Temperature, rate: Quickening },
}

impl Law<'_> {
    pub(super) fn of<'a>(written: &'a Step, planned: &'a PlannedStep) -> Option<Law<'a>> {
        if let Some(chart) = &planned.chart {
            return Some(Law::Chart(chart));
        }
        let Duration::Plain { time, at: Some(holds_at) } = &*written.duration else { return None };
        let rate =
            written.solution().and_then(|solution| solution.rate).filter(|_| written.goes_by_rate())?;
        Some(Law::Rate { time: *time, holds_at: *holds_at, rate: *rate })
    }

    /// The seconds that the whole step takes in a bath that drifts evenly; `None` outside the chart.
    pub(super) fn seconds(&self, from: Temperature, to: Temperature) -> Option<f64> {
        match self {
            Law::Chart(chart) => drifting(chart, from, to),
            Law::Rate { time, holds_at, rate } => Some(drifting_at_rate(*time, *holds_at, *rate, (from, to))),
        }
    }
}

impl Schedule {
    /// The schedule after temperatures were read in the bath of the step with this index. `readings` are in the order
    /// of time, and the last reading is made now. `planned` is the duration that the step had before the first reading.
    pub fn reread(&self, index: usize, planned: Time, readings: &[Reading]) -> Reread {
        let Some(step) = self.steps.get(index) else { return Reread::Fixed };
        let written = self.written(step);
        let law = written.and_then(|written| Some((written, Law::of(written, step)?)));
        let Some(((written, law), now)) = law.zip(readings.last()) else { return Reread::Fixed };
        let Some(rest) = rest(&law, step, planned, readings) else {
            return match &law {
                Law::Chart(chart) => {
                    chart.ends().map_or(Reread::Fixed, |(low, high)| Reread::Outside(low, high))
                }
                Law::Rate { .. } => Reread::Fixed,
            };
        };
        let before = step.duration - now.at;
        let change = (rest.ms - before.ms).saturating_mul(100);
        if change.saturating_abs() < before.ms.saturating_mul(LEAST_CHANGE) {
            return Reread::Small;
        }
        // The film leaves the bath after the reading, and after the tank is full; the duration includes draining.
        let shortest = now.at.max(step.fill) + step.drain + Time::from_seconds(1);
        let duration = (now.at + rest).max(Time::from_ms(shortest.ms - shortest.ms % 1000));
        self.lasting(index, written, duration).map_or(Reread::Fixed, |after| Reread::Changed(Box::new(after)))
    }

    /// The step of the recipe that a planned step belongs to.
    pub(super) fn written(&self, step: &PlannedStep) -> Option<&Step> {
        self.recipe.steps.iter().find(|own| own.kind == step.kind && own.name == step.name)
    }

    /// The schedule with this duration of one step; later steps are moved. `None` if the step cannot be so short.
    pub(super) fn lasting(&self, index: usize, written: &Step, duration: Time) -> Option<Schedule> {
        let mut after = self.clone();
        let step = after.steps.get_mut(index)?;
        let (left, ended, pour) = (step.leaves(), step.end, step.start + step.handling);
        let moves = self.conditions.tank.as_ref().is_some_and(|tank| tank.transfer.is_some());
        let taken = FillAndDrain { fill: step.fill, drain: step.drain, moves, ..FillAndDrain::default() };
        let (own, end) = liquid_events(written, duration, pour, &taken, &mut Vec::new())?;
        step.events.retain(|event| event.at < pour);
        step.events.extend(own);
        (step.duration, step.end) = (duration, end);
        let later = end - ended;
        let moved = |moment: Time| if left <= moment { moment + later } else { moment };
        for step in after.steps.iter_mut().skip(index + 1) {
            step.start = step.start + later;
            step.end = step.end + later;
            step.events.iter_mut().for_each(|event| event.at = event.at + later);
        }
        for leg in after.legs.iter_mut().filter(|leg| left <= leg.start) {
            *leg = Leg { start: leg.start + later, earliest: leg.earliest + later, ..*leg };
        }
        after.light.iter_mut().for_each(|light| light.at = moved(light.at));
        after.total = moved(after.total);
        Some(after)
    }
}

/// The time from the last reading to the end of a step; `None` if a temperature is outside the chart.
fn rest(law: &Law<'_>, step: &PlannedStep, planned: Time, readings: &[Reading]) -> Option<Time> {
    let from = step.temperature?;
    let to = step.ending.unwrap_or(from);
    // The factor by which the step takes longer than its chart or coefficient says, as in a bath that has treated film
    // (rule R13).
    let longer = planned.seconds() / law.seconds(from, to)?;
    let (mut done, mut before) = (0.0, Reading { at: Time::ZERO, temperature: from });
    for reading in readings {
        let passed = (reading.at - before.at).seconds();
        done += passed / (longer * law.seconds(before.temperature, reading.temperature)?);
        before = *reading;
    }
    // A bath that was expected to drift goes on drifting at the expected rate.
    let drift = to.above(from);
    let passed = before.at.ms.clamp(0, planned.ms);
    let left = drift.base.saturating_mul(planned.ms - passed) / planned.ms.max(1);
    let ending = before.temperature.plus(Difference { base: left });
    let seconds = (1.0 - done).max(0.0) * longer * law.seconds(before.temperature, ending)?;
    // The step ends at a whole second of its clock (rule R15).
    Some(to_second(before.at.seconds() + seconds) - before.at)
}
