//! How the quantities of a comparison are written: in what scale, and to how many places.

use crate::compile::Scale;
use crate::model::{Temperature, Volume, decimal};

/// A way to write quantities.
#[derive(Debug, Clone, Copy)]
pub(super) struct Hand {
    pub(super) scale: Scale,
    pub(super) places: u32,
}

impl Hand {
    /// A temperature: `20 °C`.
    pub(super) fn degrees(self, temperature: Temperature) -> String {
        match self.scale {
            Scale::Celsius => format!("{} °C", temperature.in_celsius(self.places)),
            Scale::Fahrenheit => format!("{} °F", temperature.in_fahrenheit(self.places)),
        }
    }

    /// A volume: `250 ml`.
    pub(super) fn volume(self, volume: Volume) -> String {
        format!("{} ml", volume.in_ml(self.places))
    }

    /// A difference of temperatures, in 1/9000 °C.
    pub(super) fn difference(self, base: i64) -> String {
        match self.scale {
            Scale::Celsius => format!("{} °C", decimal(base, 9000, self.places)),
            Scale::Fahrenheit => format!("{} °F", decimal(base, 5000, self.places)),
        }
    }
}
