//! Which load is made on which day.

use crate::model::Date;

/// The days of the loads.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Days {
    /// The day of the first.
    pub first: Date,
    /// How many are made in a day; `None` for all on the first.
    pub loads: Option<u32>,
    /// How many days lie from one such day to the next.
    pub apart: u32,
}

impl Days {
    /// The day of a load, counted from 0; the last of the calendar where there is none later.
    #[must_use]
    pub fn of(self, load: usize) -> Date {
        let evening = self.loads.map_or(0, |loads| load / (loads.max(1) as usize));
        let days = i64::try_from(evening).unwrap_or(i64::MAX).saturating_mul(i64::from(self.apart));
        self.first.days_later(days)
    }
}
