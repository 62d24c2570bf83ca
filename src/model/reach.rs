//! How far a step reaches: between which temperatures and which times it may lie, and what stands in
//! the tank. Rules that compare steps ask for this and not for the statements behind it.

use std::sync::Arc;

use super::band::Band;
use super::dilution::Dilution;
use super::quantity::{Temperature, Time};
use super::solution::{Role, Solution};
use super::step::{Duration, Step};

/// From here on a bath is hot: colour and other processes that are made for the heat, °C.
const HOT: Temperature = Temperature::celsius_whole(30);

impl Duration {
    /// The shortest and the longest time it may come to; `None` where that hangs on more than the
    /// temperature, or where it is water that is changed.
    #[must_use]
    pub fn bounds(&self) -> Option<(Time, Time)> {
        match self {
            Duration::Chart(chart) => Some((chart.points().last()?.time, chart.points().first()?.time)),
            Duration::Plain { time, .. } => Some((*time, *time)),
            Duration::Clearing { .. }
            | Duration::EachSide(_)
            | Duration::Changes(_)
            | Duration::Flow { .. } => None,
        }
    }
}

impl Step {
    /// The solution it works in; `None` for water, and for a dry step.
    #[must_use]
    pub fn solution(&self) -> Option<&Arc<Solution>> {
        self.bath.as_ref()?.solution.as_ref()
    }

    /// What that solution does to the film.
    #[must_use]
    pub fn role(&self) -> Option<Role> {
        self.solution()?.role
    }

    /// The strength of its solution; `None` for water, and for a dry step.
    #[must_use]
    pub fn dilution(&self) -> Option<&Dilution> {
        self.solution()?;
        self.bath.as_ref().map(|bath| &bath.dilution)
    }

    /// Whether a liquid stands in the tank.
    #[must_use]
    pub fn is_in_liquid(&self) -> bool {
        self.kind.is_wet() || self.bath.is_some()
    }

    /// Whether plain water stands in the tank.
    #[must_use]
    pub fn is_in_water(&self) -> bool {
        self.is_in_liquid() && self.solution().is_none()
    }

    /// The lowest and the highest temperature it may have, the narrowest that its own, its time's,
    /// its band and its chart give; `None` where nothing is said.
    #[must_use]
    pub fn temperatures(&self) -> Option<(Temperature, Temperature)> {
        let own = self.at.map(|at| at.value);
        let holds_at = match self.duration.value {
            Duration::Plain { at, .. } => at,
            Duration::Chart(_)
            | Duration::Clearing { .. }
            | Duration::EachSide(_)
            | Duration::Changes(_)
            | Duration::Flow { .. } => None,
        };
        let chart = match &self.duration.value {
            Duration::Chart(chart) => chart.ends(),
            Duration::Plain { .. }
            | Duration::Clearing { .. }
            | Duration::EachSide(_)
            | Duration::Changes(_)
            | Duration::Flow { .. } => None,
        };
        if let Some(own) = own {
            return Some((own, own));
        }
        let band = match self.band.map(|band| band.value) {
            Some(Band::Between(low, high)) => Some((low, high)),
            Some(Band::Within(by)) => holds_at.map(|at| (at.minus(by), at.plus(by))),
            None => None,
        };
        match (band, chart) {
            (Some((low, high)), Some((cold, warm))) => Some((low.max(cold), high.min(warm))),
            (Some(one), None) | (None, Some(one)) => Some(one),
            (None, None) => holds_at.map(|at| (at, at)),
        }
    }

    /// Whether its time is calculated by its solution's coefficient: R2 asks for that, for the temperature of the
    /// time, and for a band from one temperature to another.
    #[must_use]
    pub fn goes_by_rate(&self) -> bool {
        matches!(self.duration.value, Duration::Plain { at: Some(_), .. })
            && matches!(self.band, Some(band) if matches!(band.value, Band::Between(..)))
            && self.solution().is_some_and(|solution| solution.rate.is_some())
    }

    /// Whether it is never colder than 30 °C.
    #[must_use]
    pub fn is_hot(&self) -> bool {
        self.temperatures().is_some_and(|(low, _)| HOT <= low)
    }
}
