//! Until when a solution keeps: by the calendar, so that six months from the second of a month end on a
//! second.

use jiff::Span;
use jiff::civil::Date;

use crate::model::{Keeping, KeepingUnit};

/// The last day on which a solution that was made on that day is good. A day that the month lacks is its
/// last; past the end of the calendar it is the last day of that.
#[must_use]
pub fn keeps_until(mixed: Date, keeping: Keeping) -> Date {
    let count = i64::from(keeping.count);
    let span = Span::new();
    let span = match keeping.unit {
        KeepingUnit::Days => span.try_days(count),
        KeepingUnit::Weeks => span.try_weeks(count),
        KeepingUnit::Months => span.try_months(count),
        KeepingUnit::Years => span.try_years(count),
    };
    span.and_then(|span| mixed.checked_add(span)).unwrap_or(Date::MAX)
}

/// How many days lie between two days; below 0 if the second is the earlier.
#[must_use]
pub fn days_between(from: Date, to: Date) -> i64 {
    from.until(to).map_or(0, |span| i64::from(span.get_days()))
}
