//! Quantities as a card prints them: what is measured out stays in millilitres, what is only told
//! may be in litres, and a temperature stands in the scale that was asked for.

use crate::compile::Scale;
use crate::model::{Format, Rolls, Temperature, Volume, decimal};

/// In the scale asked for, to two places at most: `21.5 °C`.
pub(super) fn degrees(temperature: Temperature, scale: Scale) -> String {
    match scale {
        Scale::Celsius => format!("{} °C", temperature.in_celsius(2)),
        Scale::Fahrenheit => format!("{} °F", temperature.in_fahrenheit(2)),
    }
}

/// In the scale asked for, and to one place in the other: `21.5 °C (70.7 °F)`.
pub(super) fn both_degrees(temperature: Temperature, scale: Scale) -> String {
    let other = match scale {
        Scale::Celsius => format!("{} °F", temperature.in_fahrenheit(1)),
        Scale::Fahrenheit => format!("{} °C", temperature.in_celsius(1)),
    };
    format!("{} ({other})", degrees(temperature, scale))
}

/// To a tenth of a millilitre, for the measuring cylinder: `1250 ml`.
pub(super) fn measured(volume: Volume) -> String {
    format!("{} ml", volume.in_ml(1))
}

/// To a tenth of a litre from one litre on, for reading only: `17.4 l`.
pub(super) fn told(volume: Volume) -> String {
    if volume < Volume::from_ml(1000) {
        return measured(volume);
    }
    format!("{} l", decimal(volume.fl, 1000 * Volume::ML, 1))
}

/// In millilitres, from one litre on in litres, and never less than it is: what is to be bought has to be enough.
pub(super) fn enough(volume: Volume) -> String {
    let whole = Volume::from_ml(1000);
    if volume < whole {
        return format!("{} ml", volume.rounded_up(Volume { fl: Volume::ML / 10 }).in_ml(1));
    }
    format!("{} l", decimal(volume.rounded_up(Volume::from_ml(1)).fl, whole.fl, 3))
}

/// `5 x 120`.
pub(super) fn rolls(rolls: Rolls) -> String {
    format!("{} x {}", rolls.count, rolls.format.word())
}

/// `sheet` or `roll`, as the format has it.
pub(super) fn piece(format: Format) -> &'static str {
    if format.is_sheet() { "sheet" } else { "roll" }
}
