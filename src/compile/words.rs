//! Quantities as text in a sentence.

use crate::model::{Format, Time, Volume, decimal};

/// A time as text: `30 s`, `2 min`, `1:30`, `3 h`.
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

/// A difference of temperatures as text: `0.3 °C`.
pub(crate) fn celsius(degrees: f64) -> String {
    let hundredths = libm::floor(degrees * 100.0 + 0.5) / 100.0;
    format!("{hundredths} °C")
}

/// A volume as text: `250 ml`, `2.6 l`.
pub(crate) fn volume(volume: Volume) -> String {
    if volume.fl < Volume::LITRE {
        format!("{} ml", volume.in_ml(1))
    } else {
        format!("{} l", volume.in_litres(3))
    }
}

/// An area of film, as a number of rolls of 80 square inches ([`Format::ROLL`]): `1.5 rolls`.
pub(crate) fn rolls(film: i64) -> String {
    counted(&decimal(film, Format::ROLL, 2))
}

/// A number of rolls, from hundredths of a roll: 96 gives `0.96 rolls`.
pub(super) fn hundredths(rolls: i64) -> String {
    counted(&decimal(rolls, 100, 2))
}

fn counted(rolls: &str) -> String {
    if rolls == "1" { "1 roll".to_owned() } else { format!("{rolls} rolls") }
}
