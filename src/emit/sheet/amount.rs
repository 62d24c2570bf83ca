//! Amounts in grams and millilitres, and in United States units.

use super::Beside;
use crate::measure::Amount;
use crate::model::{Mass, Volume, decimal};
use crate::vocabulary::unit;

/// A number and its unit, apart so that all decimal points can be in one column.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Figure {
    pub(super) number: String,
    pub(super) unit: &'static str,
}

/// `12.5 g`, `13.2 ml`; more places for an amount that is too small to measure.
pub(super) fn figure(amount: Amount) -> Figure {
    match amount {
        Amount::Mass(mass) => Figure { number: grams(mass), unit: "g" },
        Amount::Volume(volume) => Figure { number: millilitres(volume), unit: "ml" },
    }
}

pub(super) fn text(amount: Amount) -> String {
    let Figure { number, unit } = figure(amount);
    format!("{number} {unit}")
}

/// In grams, without the unit.
pub(super) fn grams(mass: Mass) -> String {
    mass.in_g(if mass.pg < Mass::G / 100 { 6 } else { 3 })
}

/// In millilitres, without the unit.
pub(super) fn millilitres(volume: Volume) -> String {
    volume.in_ml(if volume.fl < Volume::ML / 10 { 4 } else { 1 })
}

/// The amount in the units beside the metric ones, if there are any.
pub(super) fn beside(amount: Amount, units: Beside) -> Option<String> {
    match (units, amount) {
        (Beside::Nothing, _) => None,
        (Beside::UnitedStates, Amount::Mass(mass)) => Some(avoirdupois(mass)),
        (Beside::UnitedStates, Amount::Volume(volume)) => Some(fluid(volume)),
    }
}

/// The same in brackets after a space, or nothing.
pub(super) fn in_brackets(amount: Amount, units: Beside) -> String {
    beside(amount, units).map(|beside| format!(" ({beside})")).unwrap_or_default()
}

/// `3 av-oz 231 grain`; below an ounce only grains, with decimals if they are few.
fn avoirdupois(mass: Mass) -> String {
    let (ounce, grain) = (factor("av-oz"), factor("grain"));
    let (ounces, rest) = (mass.pg.div_euclid(ounce), mass.pg.rem_euclid(ounce));
    if ounces == 0 {
        let places = match rest.div_euclid(grain) {
            0 => 3,
            1..100 => 1,
            _ => 0,
        };
        return format!("{} grain", decimal(rest, grain, places));
    }
    match decimal(rest, grain, 0).as_str() {
        "0" => format!("{ounces} av-oz"),
        grains => format!("{ounces} av-oz {grains} grain"),
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
