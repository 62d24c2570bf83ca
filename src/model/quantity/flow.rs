//! The smaller kinds: flowing water, turning drums, and shares of a hundred.

use super::volume::Volume;

/// Running water: a volume each minute.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Flow {
    /// What runs in one minute.
    pub per_minute: Volume,
}

/// How fast a drum turns.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Speed {
    /// Turns in one minute.
    pub rpm: u32,
}

/// A share, in whole hundredths of a percent.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Share {
    /// Hundredths of a percent.
    pub basis_points: u32,
}

impl std::fmt::Display for Flow {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        write!(f, "{} l/min", super::number::decimal(self.per_minute.fl, 1000 * Volume::ML, 3))
    }
}

impl std::fmt::Display for Share {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        write!(f, "{} %", super::number::decimal(i64::from(self.basis_points), 100, 2))
    }
}
