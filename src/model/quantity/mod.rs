//! Quantities in whole base units, so that nothing is rounded before R1, R2 and R5 calculate a time.

mod number;

use std::fmt::{Display, Formatter, Result as Formatted};
use std::iter::Sum;
use std::ops::{Add, Sub};

pub(crate) use number::gcd;
pub use number::{Limit, Number, decimal};

/// Defines a quantity in whole base units. Arithmetic saturates.
macro_rules! quantity {
    ($(#[$doc:meta])* $name:ident $unit:ident: $words:literal) => {
        $(#[$doc])*
        #[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Default)]
        pub struct $name {
            #[doc = $words]
            pub $unit: i64,
        }

        impl $name {
            /// Zero of this quantity.
            pub const ZERO: $name = $name { $unit: 0 };

            /// `number` units of `unit` base units each; `None` on overflow.
            pub fn of(number: Number, unit: i64) -> Option<$name> {
                number.in_base(unit).map(|$unit| $name { $unit })
            }

            /// `self · numerator / denominator`, rounded to the nearest base unit.
            pub fn scaled(self, numerator: i64, denominator: i64) -> $name {
                let below = i128::from(denominator.max(1));
                let product = i128::from(self.$unit) * i128::from(numerator);
                let nearest = (2 * product + below).div_euclid(2 * below);
                $name { $unit: i64::try_from(nearest).unwrap_or(i64::MAX) }
            }

            /// The nearest multiple of `step`; a half is rounded up.
            pub fn rounded(self, step: $name) -> $name {
                let step = step.$unit.max(1);
                let steps = self.$unit.saturating_add(step / 2).div_euclid(step);
                $name { $unit: steps.saturating_mul(step) }
            }
        }

        impl Add for $name {
            type Output = $name;
            fn add(self, other: $name) -> $name {
                $name { $unit: self.$unit.saturating_add(other.$unit) }
            }
        }

        impl Sub for $name {
            type Output = $name;
            fn sub(self, other: $name) -> $name {
                $name { $unit: self.$unit.saturating_sub(other.$unit) }
            }
        }

        impl Sum for $name {
            fn sum<I: Iterator<Item = $name>>(all: I) -> $name {
                all.fold($name::ZERO, Add::add)
            }
        }
    };
}

quantity! {
    /// A mass, in a unit so small that a hundredth of a grain is a whole number.
    Mass pg: "Picograms."
}

quantity! {
    /// A volume, in a unit so small that a hundredth of a fluid ounce, US or imperial, is a whole number.
    Volume fl: "Femtolitres."
}

quantity! {
    /// A length of time; never negative in a recipe.
    Time ms: "Milliseconds."
}

quantity! {
    /// A difference of temperatures, in a unit so small that 0.001 °C and 0.001 °F are whole numbers, 9 and 5.
    Difference base: "In 1/9000 °C."
}

impl Mass {
    /// Picograms in a gram.
    pub const G: i64 = 1_000_000_000_000;

    /// The number of grams with at most `places` decimals, without the unit.
    pub fn in_g(self, places: u32) -> String {
        decimal(self.pg, Mass::G, places)
    }
}

/// Writes the mass in grams: `2.5 g`.
impl Display for Mass {
    fn fmt(&self, out: &mut Formatter<'_>) -> Formatted {
        write!(out, "{} g", self.in_g(6))
    }
}

impl Volume {
    /// Femtolitres in a millilitre.
    pub const ML: i64 = 1_000_000_000_000;
    /// Femtolitres in a litre.
    pub const LITRE: i64 = 1000 * Volume::ML;

    /// The volume of this many millilitres.
    pub const fn from_ml(ml: i64) -> Volume {
        Volume { fl: ml.saturating_mul(Volume::ML) }
    }

    /// The number of millilitres with at most `places` decimals, without the unit.
    pub fn in_ml(self, places: u32) -> String {
        decimal(self.fl, Volume::ML, places)
    }

    /// The number of litres with at most `places` decimals, without the unit.
    pub fn in_litres(self, places: u32) -> String {
        decimal(self.fl, Volume::LITRE, places)
    }

    /// The volume rounded up to a multiple of `step`.
    pub fn rounded_up(self, step: Volume) -> Volume {
        let step = step.fl.max(1);
        let short = self.fl.rem_euclid(step);
        if short == 0 { self } else { Volume { fl: self.fl.saturating_add(step - short) } }
    }
}

/// Writes the volume in millilitres: `1250 ml`.
impl Display for Volume {
    fn fmt(&self, out: &mut Formatter<'_>) -> Formatted {
        write!(out, "{} ml", self.in_ml(3))
    }
}

impl Time {
    /// The time of this many milliseconds.
    pub const fn from_ms(ms: i64) -> Time {
        Time { ms }
    }

    /// The time of this many seconds.
    pub const fn from_seconds(seconds: i64) -> Time {
        Time { ms: seconds.saturating_mul(1000) }
    }

    /// A time in minutes, rounded to the nearest second and limited to the range from 0 to 10^12 s.
    #[expect(clippy::cast_possible_truncation, reason = "the number of seconds is limited")]
    pub fn from_minutes(minutes: f64) -> Time {
        Time::from_seconds(libm::floor(minutes * 60.0 + 0.5).clamp(0.0, 1e12) as i64)
    }

    /// The time in seconds.
    #[expect(clippy::cast_precision_loss, reason = "a recipe's times are below 2^53 ms")]
    pub fn seconds(self) -> f64 {
        self.ms as f64 / 1000.0
    }

    /// The time multiplied by a count.
    pub fn times(self, count: u32) -> Time {
        self.scaled(i64::from(count), 1)
    }

    /// The time multiplied by a number, to a millisecond; half a millisecond is rounded up.
    pub fn by(self, factor: Number) -> Time {
        Time { ms: factor.in_base(self.ms).unwrap_or(i64::MAX) }
    }
}

/// Writes the time as a clock shows it: `10:15`, `1:02:30`, or `0:02.5` with a fraction of a second.
impl Display for Time {
    fn fmt(&self, out: &mut Formatter<'_>) -> Formatted {
        let (seconds, part) = (self.ms / 1000, self.ms % 1000);
        let (hours, minutes, rest) = (seconds / 3600, seconds / 60 % 60, seconds % 60);
        if hours > 0 {
            write!(out, "{hours}:{minutes:02}:{rest:02}")?;
        } else {
            write!(out, "{minutes}:{rest:02}")?;
        }
        if part == 0 { Ok(()) } else { write!(out, ".{}", format!("{part:03}").trim_end_matches('0')) }
    }
}

/// Base units in 1 °C.
const CELSIUS: i64 = 9000;
/// Base units in 1 °F, which is 5/9 °C.
const FAHRENHEIT: i64 = 5000;

impl Difference {
    /// A difference in degrees Celsius; `None` on overflow.
    pub fn from_celsius(number: Number) -> Option<Difference> {
        Difference::of(number, CELSIUS)
    }

    /// A difference in degrees Fahrenheit; `None` on overflow.
    pub fn from_fahrenheit(number: Number) -> Option<Difference> {
        Difference::of(number, FAHRENHEIT)
    }

    /// The difference in degrees Celsius.
    #[expect(clippy::cast_precision_loss, reason = "temperatures of a bath are far below 2^53 units")]
    pub fn celsius(self) -> f64 {
        self.base as f64 / CELSIUS as f64
    }
}

/// A difference as a recipe writes it: `0.15 C`.
impl Display for Difference {
    fn fmt(&self, out: &mut Formatter<'_>) -> Formatted {
        write!(out, "{} C", decimal(self.base, CELSIUS, 3))
    }
}

/// A temperature. Thousandths of a degree Celsius or Fahrenheit are exact.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Default)]
pub struct Temperature {
    /// The temperature in 1/9000 °C above 0 °C.
    pub base: i64,
}

impl Temperature {
    /// The temperature of this many degrees Celsius.
    pub const fn celsius_whole(degrees: i64) -> Temperature {
        Temperature { base: degrees.saturating_mul(CELSIUS) }
    }

    /// The temperature of this many degrees Fahrenheit.
    pub const fn fahrenheit_whole(degrees: i64) -> Temperature {
        Temperature { base: degrees.saturating_sub(32).saturating_mul(FAHRENHEIT) }
    }

    /// The temperature of a number of degrees Celsius; `None` on overflow.
    pub fn from_celsius(number: Number) -> Option<Temperature> {
        number.in_base(CELSIUS).map(|base| Temperature { base })
    }

    /// The temperature of a number of degrees Fahrenheit; `None` on overflow. °C = (°F − 32) · 5/9.
    pub fn from_fahrenheit(number: Number) -> Option<Temperature> {
        let base = number.in_base(FAHRENHEIT)?.checked_sub(32 * FAHRENHEIT)?;
        Some(Temperature { base })
    }

    /// The temperature in degrees Celsius.
    pub fn celsius(self) -> f64 {
        Difference { base: self.base }.celsius()
    }

    /// The degrees Celsius with at most `places` decimals, without the unit.
    pub fn in_celsius(self, places: u32) -> String {
        decimal(self.base, CELSIUS, places)
    }

    /// The degrees Fahrenheit with at most `places` decimals, without the unit.
    pub fn in_fahrenheit(self, places: u32) -> String {
        decimal(self.base.saturating_add(32 * FAHRENHEIT), FAHRENHEIT, places)
    }

    /// By how much this temperature is above `other`; negative if below.
    pub fn above(self, other: Temperature) -> Difference {
        Difference { base: self.base.saturating_sub(other.base) }
    }

    /// The difference of two temperatures, never negative.
    pub fn apart(self, other: Temperature) -> Difference {
        self.above(other).max(other.above(self))
    }

    /// The temperature plus a difference.
    pub fn plus(self, by: Difference) -> Temperature {
        Temperature { base: self.base.saturating_add(by.base) }
    }

    /// The temperature minus a difference.
    pub fn minus(self, by: Difference) -> Temperature {
        Temperature { base: self.base.saturating_sub(by.base) }
    }
}

/// A temperature as a recipe writes it: `20 C`, `21.5 C`.
impl Display for Temperature {
    fn fmt(&self, out: &mut Formatter<'_>) -> Formatted {
        write!(out, "{} C", self.in_celsius(3))
    }
}

/// The flow of running water.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Flow {
    /// The volume in one minute.
    pub per_minute: Volume,
}

impl Display for Flow {
    fn fmt(&self, out: &mut Formatter<'_>) -> Formatted {
        write!(out, "{} l/min", self.per_minute.in_litres(3))
    }
}

/// The speed of a drum.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Speed {
    /// Turns in one minute.
    pub rpm: u32,
}

/// A share of a whole, written in percent.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub struct Share {
    /// The share in hundredths of a percent.
    pub basis_points: u32,
}

impl Display for Share {
    fn fmt(&self, out: &mut Formatter<'_>) -> Formatted {
        write!(out, "{} %", decimal(i64::from(self.basis_points), 100, 2))
    }
}
