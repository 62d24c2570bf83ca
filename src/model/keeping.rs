//! How long a solution keeps: by the calendar, or by the clock.

use super::quantity::Time;
use super::solution::Dilution;
use super::words::words;
use crate::source::Span;

/// A keeping time, as in `keeps 45 min at 1+1+100`.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Keeps {
    /// How long the solution keeps, by the calendar or by the clock.
    pub time: KeepsFor,
    /// Whether the time holds for a bottle that is only half full.
    pub half_full: bool,
    /// The dilution; `None` if the time holds at any dilution.
    pub at: Option<Dilution>,
    /// The span of the statement `keeps`.
    pub span: Span,
}

impl std::fmt::Display for Keeps {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        write!(f, "{}", self.time)?;
        f.write_str(if self.half_full { " half full" } else { "" })?;
        self.at.iter().try_for_each(|at| write!(f, " at {at}"))
    }
}

/// How long a solution keeps.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum KeepsFor {
    /// A time in days, weeks, months or years.
    Calendar(Keeping),
    /// A time in hours or minutes: the working life of a bath.
    Clock(Time),
}

impl std::fmt::Display for KeepsFor {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        match self {
            KeepsFor::Calendar(keeping) => write!(f, "{keeping}"),
            KeepsFor::Clock(time) if time.ms % 3_600_000 == 0 => write!(f, "{} h", time.ms / 3_600_000),
            KeepsFor::Clock(time) if time.ms % 60_000 == 0 => write!(f, "{} min", time.ms / 60_000),
            KeepsFor::Clock(time) => write!(f, "{time}"),
        }
    }
}

words! {
    /// The units of a keeping time.
    pub enum KeepingUnit {
        Days = "days",
        Weeks = "weeks",
        /// Months of the calendar.
        Months = "months",
        Years = "years",
    }
}

impl std::fmt::Display for Keeping {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        let unit = self.unit.word();
        let unit = if self.count == 1 { unit.trim_end_matches('s') } else { unit };
        write!(f, "{} {unit}", self.count)
    }
}

/// How long a solution keeps, in the unit that the file uses.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Keeping {
    /// The number of days, weeks, months or years.
    pub count: u32,
    /// The unit, as the file writes it.
    pub unit: KeepingUnit,
}
