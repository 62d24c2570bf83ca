//! The units of a sheet: grams and millilitres, and those of the United States beside them.

use super::super::figure::both_degrees;
use super::super::plain::prefixed;
use crate::compile::Scale;
use crate::measure::Amount;
use crate::model::{Mass, Temperature, Volume, decimal};
use crate::vocabulary::unit;

/// The units beside the metric ones.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Beside {
    /// None.
    Nothing,
    /// Avoirdupois ounces, grains, and fluid ounces of the United States.
    UnitedStates,
}

/// The units of a sheet.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Units {
    /// The first scale of temperature.
    pub scale: Scale,
    /// The units beside grams and millilitres.
    pub beside: Beside,
}

impl Units {
    /// The amount in the units beside the metric ones, if there are any.
    pub(super) fn beside(self, amount: Amount) -> Option<String> {
        match (self.beside, amount) {
            (Beside::Nothing, _) => None,
            (Beside::UnitedStates, Amount::Mass(mass)) => Some(avoirdupois(mass)),
            (Beside::UnitedStates, Amount::Volume(volume)) => Some(fluid(volume)),
        }
    }

    /// The same in brackets after a space, or nothing.
    pub(super) fn in_brackets(self, amount: Amount) -> String {
        prefixed(" ", self.beside(amount).map(|beside| format!("({beside})")))
    }

    /// `water at 50 °C (122 °F)`, to a tenth of a degree, the resolution of a darkroom thermometer in its own scale.
    pub(super) fn warm(self, what: &str, at: Option<Temperature>) -> String {
        let tenth = match self.scale {
            Scale::Celsius => 900,
            Scale::Fahrenheit => 500,
        };
        let tenths = |base: i64| base.saturating_add(tenth / 2).div_euclid(tenth).saturating_mul(tenth);
        let at = at.map(|at| both_degrees(Temperature { base: tenths(at.base) }, self.scale));
        format!("{what}{}", prefixed(" at ", at))
    }
}

/// The number and its unit: `12.5` and `g`. An amount that is too small to measure has more places.
pub(super) fn metric(amount: Amount) -> (String, &'static str) {
    match amount {
        Amount::Mass(mass) => (grams(mass), "g"),
        Amount::Volume(volume) => (millilitres(volume), "ml"),
    }
}

/// In grams, without the unit.
pub(super) fn grams(mass: Mass) -> String {
    mass.in_g(if mass.pg < Mass::G / 100 { 6 } else { 3 })
}

/// In millilitres, without the unit.
pub(super) fn millilitres(volume: Volume) -> String {
    volume.in_ml(if volume.fl < Volume::ML / 10 { 4 } else { 1 })
}

/// `3 av-oz 231 grain`; below an ounce only grains, with decimals if they are few.
fn avoirdupois(mass: Mass) -> String {
    let (ounce, grain) = (factor("av-oz"), factor("grain"));
    let (ounces, rest) = (mass.pg.div_euclid(ounce), mass.pg.rem_euclid(ounce));
    let places = match rest.div_euclid(grain) {
        _ if ounces > 0 => 0,
        0 => 3,
        1..100 => 1,
        _ => 0,
    };
    match (ounces, decimal(rest, grain, places).as_str()) {
        (0, grains) => format!("{grains} grain"),
        (_, "0") => format!("{ounces} av-oz"),
        (_, grains) => format!("{ounces} av-oz {grains} grain"),
    }
}

/// `33.8 us-fl-oz`, no finer than in millilitres: a hundredth of an ounce is a third of one.
fn fluid(volume: Volume) -> String {
    let ounce = factor("us-fl-oz");
    let places = match volume.fl.div_euclid(ounce) {
        0 => 3,
        1..10 => 2,
        _ => 1,
    };
    format!("{} us-fl-oz", decimal(volume.fl, ounce, places))
}

fn factor(word: &str) -> i64 {
    unit(word).map_or(1, |unit| unit.factor)
}
