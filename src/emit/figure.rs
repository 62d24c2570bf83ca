//! Quantities as a card prints them.

use std::fmt::Display;

use crate::compile::Scale;
use crate::model::{Format, Rolls, Temperature, Volume, decimal};

const LITRE: Volume = Volume::from_ml(1000);

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
    if volume < LITRE { ml(volume) } else { format!("{} l", decimal(volume.fl, LITRE.fl, 1)) }
}

/// From one litre on in litres, rounded up, so that it is enough to buy.
pub(super) fn enough(volume: Volume) -> String {
    if volume < LITRE {
        return ml(volume.rounded_up(Volume { fl: Volume::ML / 10 }));
    }
    format!("{} l", decimal(volume.rounded_up(Volume::from_ml(1)).fl, LITRE.fl, 3))
}

/// `5 x 120`.
pub(super) fn rolls(rolls: Rolls) -> String {
    format!("{} x {}", rolls.count, rolls.format.word())
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

pub(super) fn piece(format: Format) -> &'static str {
    if format.is_sheet() { "sheet" } else { "roll" }
}
