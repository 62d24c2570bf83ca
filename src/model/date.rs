//! A day of the calendar.

use std::fmt::{Display, Formatter, Result as Formatted};
use std::str::FromStr;

use jiff::Span;
use jiff::civil;

use super::{Keeping, KeepingUnit};

/// A day of the calendar, written as in `2026-11-25` and in no other way. What would lie past the last day there is, is that day.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Date(civil::Date);

impl Date {
    /// The last day there is.
    pub const MAX: Date = Date(civil::Date::MAX);

    /// The day, if the calendar has it and it is not before the year 1.
    #[must_use]
    pub fn new(year: i16, month: i8, day: i8) -> Option<Date> {
        civil::Date::new(year, month, day).ok().filter(|date| date.year() > 0).map(Date)
    }

    /// The day so many days later.
    #[must_use]
    pub fn days_later(self, days: i64) -> Date {
        self.later(Span::new().try_days(days))
    }

    /// How many days lie between this day and another; below 0 if the other is the earlier.
    #[must_use]
    pub fn days_until(self, other: Date) -> i64 {
        self.0.until(other.0).map_or(0, |span| i64::from(span.get_days()))
    }

    /// The last day on which a solution that was made on this day is good: by the calendar, so that six months
    /// from the second of a month end on a second. A day that the month lacks is its last.
    #[must_use]
    pub fn keeps_until(self, keeping: Keeping) -> Date {
        let (span, count) = (Span::new(), i64::from(keeping.count));
        self.later(match keeping.unit {
            KeepingUnit::Days => span.try_days(count),
            KeepingUnit::Weeks => span.try_weeks(count),
            KeepingUnit::Months => span.try_months(count),
            KeepingUnit::Years => span.try_years(count),
        })
    }

    /// The day, and the clock on the wall so many seconds after its midnight, as ISO 8601 writes both without signs:
    /// `20261125T193000`; `None` past the last day there is.
    pub(crate) fn clock(self, seconds: i64) -> Option<String> {
        let time =
            self.0.to_datetime(civil::Time::midnight()).checked_add(Span::new().try_seconds(seconds).ok()?);
        Some(time.ok()?.strftime("%Y%m%dT%H%M%S").to_string())
    }

    fn later(self, span: Result<Span, jiff::Error>) -> Date {
        span.and_then(|span| self.0.checked_add(span)).map_or(Date::MAX, Date)
    }
}

impl Display for Date {
    fn fmt(&self, out: &mut Formatter<'_>) -> Formatted {
        self.0.fmt(out)
    }
}

/// That a text is no day of the calendar.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct NoDate;

impl FromStr for Date {
    type Err = NoDate;

    fn from_str(text: &str) -> Result<Date, NoDate> {
        let date = text.parse().ok().filter(|date: &civil::Date| date.year() > 0).map(Date);
        date.filter(|date| date.to_string() == text).ok_or(NoDate)
    }
}
