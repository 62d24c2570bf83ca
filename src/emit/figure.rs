//! Quantities as a card prints them.

use std::fmt::Display;

use crate::compile::Scale;
use crate::model::{Temperature, Volume, decimal};

/// A temperature with at most two decimals: `21.5 °C`.
pub(super) fn degrees(temperature: Temperature, scale: Scale) -> String {
    rounded(temperature, scale, 2)
}

/// A temperature in both scales: `21.5 °C (70.7 °F)`.
pub(super) fn both_degrees(temperature: Temperature, scale: Scale) -> String {
    let other = if scale == Scale::Celsius { Scale::Fahrenheit } else { Scale::Celsius };
    format!("{} ({})", degrees(temperature, scale), rounded(temperature, other, 1))
}

pub(super) fn rounded(temperature: Temperature, scale: Scale, places: u32) -> String {
    interval(temperature.base + degree(scale).zero, scale, places)
}

/// A difference of temperatures, given in 1/9000 °C: `1.5 °C`.
pub(super) fn interval(base: i64, scale: Scale, places: u32) -> String {
    let Degree { base: one, letter, .. } = degree(scale);
    format!("{} °{letter}", decimal(base, one, places))
}

/// A degree of a scale, in 1/9000 °C.
pub(super) struct Degree {
    pub(super) base: i64,
    /// How far the zero of the scale is below 0 °C.
    pub(super) zero: i64,
    pub(super) letter: &'static str,
}

pub(super) fn degree(scale: Scale) -> Degree {
    match scale {
        Scale::Celsius => Degree { base: 9000, zero: 0, letter: "C" },
        Scale::Fahrenheit => Degree { base: 5000, zero: 160_000, letter: "F" },
    }
}

/// A volume to a tenth of a millilitre: `1250 ml`.
pub(super) fn ml(volume: Volume) -> String {
    format!("{} ml", volume.in_ml(1))
}

/// A volume that nobody measures out. From one litre on it is in litres: `17.4 l`.
pub(super) fn litres(volume: Volume) -> String {
    if volume.fl < Volume::LITRE { ml(volume) } else { format!("{} l", volume.in_litres(1)) }
}

/// A volume, rounded up so that it is enough to buy. From one litre on it is in litres.
pub(super) fn enough(volume: Volume) -> String {
    if volume.fl < Volume::LITRE {
        return ml(volume.rounded_up(Volume { fl: Volume::ML / 10 }));
    }
    format!("{} l", volume.rounded_up(Volume::from_ml(1)).in_litres(3))
}

/// A number of things: `1 roll`, `3 rolls`.
pub(super) fn count(number: impl Display, what: &str) -> String {
    let number = number.to_string();
    let plural = if number == "1" { "" } else { "s" };
    format!("{number} {what}{plural}")
}

/// Twelfths of a roll as a number of rolls, with at most two decimals.
pub(super) fn film(twelfths: i64) -> String {
    decimal(twelfths, 12, 2)
}
