//! A length of time, in whole milliseconds.

use std::fmt;
use std::ops::{Add, Sub};

/// A length of time in milliseconds; never negative in a recipe.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Default)]
pub struct Time {
    /// Milliseconds.
    pub ms: i64,
}

impl Time {
    /// No time.
    pub const ZERO: Time = Time { ms: 0 };

    /// From milliseconds.
    pub const fn from_ms(ms: i64) -> Time {
        Time { ms }
    }

    /// From seconds.
    pub const fn from_seconds(seconds: i64) -> Time {
        Time { ms: seconds.saturating_mul(1000) }
    }

    /// In seconds.
    #[expect(clippy::cast_precision_loss, reason = "a recipe's times are below 2^53 ms")]
    pub fn seconds(self) -> f64 {
        self.ms as f64 / 1000.0
    }

    /// This many times over.
    pub fn times(self, count: u32) -> Time {
        Time { ms: self.ms.saturating_mul(i64::from(count)) }
    }
}

impl Add for Time {
    type Output = Time;
    fn add(self, other: Time) -> Time {
        Time { ms: self.ms.saturating_add(other.ms) }
    }
}

impl Sub for Time {
    type Output = Time;
    fn sub(self, other: Time) -> Time {
        Time { ms: self.ms.saturating_sub(other.ms) }
    }
}

/// As a clock: `10:15`, `1:02:30`, and `0:02.5` where there is a part of a second.
impl fmt::Display for Time {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let (seconds, part) = (self.ms / 1000, self.ms % 1000);
        let (hours, minutes, rest) = (seconds / 3600, seconds / 60 % 60, seconds % 60);
        if hours > 0 {
            write!(f, "{hours}:{minutes:02}:{rest:02}")?;
        } else {
            write!(f, "{minutes}:{rest:02}")?;
        }
        if part == 0 { Ok(()) } else { write!(f, ".{}", format!("{part:03}").trim_end_matches('0')) }
    }
}
