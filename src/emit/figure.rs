//! Quantities as a card prints them.

use std::fmt::Display;

use crate::compile::Scale;
use crate::model::{Temperature, Volume, decimal};

/// In that scale, to at most two places: `21.5 °C`.
pub(super) fn degrees(temperature: Temperature, scale: Scale) -> String {
    rounded(temperature, scale, 2)
}

/// In both scales, the second to one place: `21.5 °C (70.7 °F)`.
pub(super) fn both_degrees(temperature: Temperature, scale: Scale) -> String {
    let other = if scale == Scale::Celsius { Scale::Fahrenheit } else { Scale::Celsius };
    format!("{} ({})", degrees(temperature, scale), rounded(temperature, other, 1))
}

/// In that scale, to at most that number of places.
pub(super) fn rounded(temperature: Temperature, scale: Scale, places: u32) -> String {
    match scale {
        Scale::Celsius => format!("{} °C", temperature.in_celsius(places)),
        Scale::Fahrenheit => format!("{} °F", temperature.in_fahrenheit(places)),
    }
}

/// To a tenth of a millilitre, to measure out: `1250 ml`.
pub(super) fn ml(volume: Volume) -> String {
    format!("{} ml", volume.in_ml(1))
}

/// From one litre on in litres, to a tenth, only to read: `17.4 l`.
pub(super) fn litres(volume: Volume) -> String {
    if volume.fl < Volume::LITRE { ml(volume) } else { format!("{} l", volume.in_litres(1)) }
}

/// From one litre on in litres, rounded up, so that it is enough to buy.
pub(super) fn enough(volume: Volume) -> String {
    if volume.fl < Volume::LITRE {
        return ml(volume.rounded_up(Volume { fl: Volume::ML / 10 }));
    }
    format!("{} l", volume.rounded_up(Volume::from_ml(1)).in_litres(3))
}

pub(super) fn count(number: impl Display, what: &str) -> String {
    let number = number.to_string();
    let plural = if number == "1" { "" } else { "s" };
    format!("{number} {what}{plural}")
}

/// Twelfths of a roll as rolls of 80 square inches, to two places.
pub(super) fn film(twelfths: i64) -> String {
    decimal(twelfths, 12, 2)
}
