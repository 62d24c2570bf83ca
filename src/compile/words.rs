//! Quantities as the sentences of a card have them.

use super::evening::Scale;
use crate::model::{Difference, Temperature, Time, Volume, decimal};

/// A time in a sentence: `30 s`, `2 min`, `1:30`, `3 h`.
pub(crate) fn time(time: Time) -> String {
    let seconds = time.ms / 1000;
    match (time.ms % 1000, seconds) {
        (0, 0..60) => format!("{seconds} s"),
        (0, _) if seconds % 3600 == 0 => format!("{} h", seconds / 3600),
        (0, _) if seconds % 60 == 0 && seconds < 3600 => format!("{} min", seconds / 60),
        (_, 0..60) => format!("{} s", decimal(time.ms, 1000, 3)),
        _ => time.to_string(),
    }
}

/// A volume in a sentence: `250 ml`, `2.6 l`.
pub(super) fn volume(volume: Volume) -> String {
    let litre = 1000 * Volume::ML;
    if volume.fl < litre {
        format!("{} ml", volume.in_ml(1))
    } else {
        format!("{} l", decimal(volume.fl, litre, 3))
    }
}

/// A number of rolls of 80 square inches, given in twelfths: `1.5 rolls`.
pub(super) fn rolls(twelfths: i64) -> String {
    let count = decimal(twelfths, 12, 2);
    if count == "1" { "1 roll".to_owned() } else { format!("{count} rolls") }
}

/// A temperature in a scale: `21.5 °C`.
pub(super) fn temperature(temperature: Temperature, scale: Scale) -> String {
    match scale {
        Scale::Celsius => format!("{} °C", temperature.in_celsius(2)),
        Scale::Fahrenheit => format!("{} °F", temperature.in_fahrenheit(2)),
    }
}

/// A difference of temperatures in degrees Celsius.
pub(super) fn difference(difference: Difference) -> String {
    format!("{difference}").replace(" C", " °C")
}
