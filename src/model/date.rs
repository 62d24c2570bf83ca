//! A day of the calendar.

use std::fmt::{Display, Formatter, Result as Formatted};
use std::str::FromStr;

use jiff::Span;
use jiff::civil;

use super::{Keeping, KeepingUnit};

/// A date, written `2026-11-25`. An addition that goes past [`Date::MAX`] gives [`Date::MAX`].
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub struct Date(civil::Date);

impl Date {
    /// The last date that the program can represent.
    pub const MAX: Date = Date(civil::Date::MAX);

    /// The date; `None` if there is no such day, or it is before the year 1.
    pub fn new(year: i16, month: i8, day: i8) -> Option<Date> {
        civil::Date::new(year, month, day).ok().filter(|date| date.year() > 0).map(Date)
    }

    /// The date this many days later.
    pub fn days_later(self, days: i64) -> Date {
        self.later(Span::new().try_days(days))
    }

    /// The days from this date to `other`; negative if `other` is earlier.
    pub fn days_until(self, other: Date) -> i64 {
        self.0.until(other.0).map_or(0, |span| i64::from(span.get_days()))
    }

    /// The last date to use a solution that was mixed on this date. A term in months can end early: six months from
    /// the 31st of August end on the last day of February.
    pub fn keeps_until(self, keeping: Keeping) -> Date {
        let (span, count) = (Span::new(), i64::from(keeping.count));
        self.later(match keeping.unit {
            KeepingUnit::Days => span.try_days(count),
            KeepingUnit::Weeks => span.try_weeks(count),
            KeepingUnit::Months => span.try_months(count),
            KeepingUnit::Years => span.try_years(count),
        })
    }

    /// The date and time `seconds` after this date begins, as `20261125T193000`; `None` past the last possible date.
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

impl FromStr for Date {
    type Err = ();

    fn from_str(text: &str) -> Result<Date, ()> {
        let date = text.parse().ok().filter(|date: &civil::Date| date.year() > 0).map(Date);
        date.filter(|date| date.to_string() == text).ok_or(())
    }
}
