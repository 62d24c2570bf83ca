//! Water of a temperature, drawn from two taps: for washing, presoaking, or a water bath.

use super::liquids::split;
use super::sheet::{Taps, Water};
use super::{SCALD, SCALDS};
use crate::compile::measurable;
use crate::model::{Temperature, Volume};
use crate::source::{Diagnostic, Span};

/// Water of a certain temperature, drawn from two taps.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct TemperedWater {
    /// The water, with how much comes from each tap.
    pub water: Water,
    /// The caution about hot water, if some of it is hot.
    pub cautions: Vec<String>,
}

impl TemperedWater {
    /// The water of a temperature, from two taps (R9). By the rule of mixtures, the colder water takes up the heat that
    /// the warmer water gives off.
    ///
    /// # Errors
    /// The temperature is not between those of the taps.
    pub fn of(make: Volume, at: Temperature, taps: Taps) -> Result<TemperedWater, Box<Diagnostic>> {
        let make = make.rounded_up(measurable(make));
        let mut water = Water { volume: make, at: Some(at), taps: None };
        let mut faults = Vec::new();
        split(&mut water, taps, Span::default(), &mut faults);
        if let Some(fault) = faults.pop() {
            return Err(Box::new(fault));
        }
        let draws_hot = water.taps.is_some_and(|drawn| drawn.hot > Volume::ZERO);
        let is_hot = SCALDS < at || draws_hot && SCALDS < taps.hot;
        Ok(TemperedWater { water, cautions: is_hot.then(|| SCALD.to_owned()).into_iter().collect() })
    }
}
