//! The dates of a list: written as a date, with the day or the month first, or as a number of days.

use crate::model::Date;

/// The order of day and month in dates that begin with one of them.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum DateOrder {
    /// The day, then the month.
    DayFirst,
    /// The month, then the day.
    MonthFirst,
}

/// The date in a cell, by the way in which it is written.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Written {
    /// A date that can be read in only one way.
    Clear(Date),
    /// The first two numbers of the cell, of which one is the day and the other the month; and the year.
    Either(u32, u32, i16),
    /// The date for a number of days, which is how a spreadsheet stores a date.
    Days(Date),
    /// A time in UTC that is not midnight, so that the day depends on the time zone.
    InUtc,
    Other,
}

/// How many days a spreadsheet counts to the first day of 1970: its day 0 is the 30th of December 1899, for dates from
/// March 1900 on (ECMA-376, part 1, 18.17.4.1; not looked up).
const DAYS_TO_1970: i64 = 25_569;
/// A number in a column of dates must be in this range to be a number of days: from the years 1927 to 2173.
const DAYS: std::ops::RangeInclusive<u32> = 10_000..=99_999;

impl Written {
    pub(super) fn of(cell: &str) -> Written {
        let (cell, time) = match cell.split_once(['T', ' ']) {
            Some((day, time)) if time.contains(':') => (day, time),
            _ => (cell, ""),
        };
        let has_hour = time.bytes().any(|letter| (b'1'..=b'9').contains(&letter));
        if has_hour && time.ends_with('Z') {
            return Written::InUtc;
        }
        let cell = cell.trim_end_matches(['.', '/']);
        let pieces: Vec<&str> = cell.split(['.', '/', '-']).map(str::trim).collect();
        match pieces.as_slice() {
            [year, month, day] if year.len() == 4 => {
                let date = numbers([year, month, day]).and_then(|[year, month, day]| date(year, month, day));
                date.map_or(Written::Other, Written::Clear)
            }
            [one, other, year] => {
                let number = numbers([one, other, year]);
                let year = number.and_then(|[.., number]| whole_year(year, number));
                match (number, year) {
                    (Some([one, other, _]), Some(year)) => Written::Either(one, other, year),
                    _ => Written::Other,
                }
            }
            _ => days(cell),
        }
    }

    /// The dates that a cell can mean, with the day first and with the month first.
    fn both(self) -> [Option<Date>; 2] {
        match self {
            Written::Either(one, other, year) => {
                let year = u32::try_from(year).unwrap_or(0);
                [date(year, other, one), date(year, one, other)]
            }
            Written::Clear(date) | Written::Days(date) => [Some(date); 2],
            Written::InUtc | Written::Other => [None; 2],
        }
    }

    /// The date that a cell means, if dates have this order of day and month; `None` if there is no date, or two can be
    /// meant.
    pub(super) fn date(self, order: Option<DateOrder>) -> Option<Date> {
        let [day_first, month_first] = self.both();
        match (order, day_first, month_first) {
            (Some(DateOrder::DayFirst), date, _) | (Some(DateOrder::MonthFirst), _, date) => date,
            (None, Some(one), Some(other)) => (one == other).then_some(one),
            (None, one, other) => one.or(other),
        }
    }
}

/// The order of day and month in a column, if some date is possible in only one order, such as `13.2.2026`; `None` if
/// dates contradict each other.
pub(super) fn order_of(column: impl Iterator<Item = Written>) -> Option<DateOrder> {
    let (mut day_first, mut month_first) = (false, false);
    for written in column.filter(|written| matches!(written, Written::Either(..))) {
        match written.both() {
            [Some(_), None] => day_first = true,
            [None, Some(_)] => month_first = true,
            _ => {}
        }
    }
    match (day_first, month_first) {
        (true, false) => Some(DateOrder::DayFirst),
        (false, true) => Some(DateOrder::MonthFirst),
        _ => None,
    }
}

/// The order that words such as `dd.mm.yyyy` or `month/day/year` state.
pub(super) fn order_in(words: &str) -> Option<DateOrder> {
    let words = words.to_lowercase();
    let mut words = words.split(|letter: char| !letter.is_ascii_lowercase()).filter(|word| !word.is_empty());
    match (words.next()?.chars().next()?, words.next()?.chars().next()?) {
        ('d', 'm') => Some(DateOrder::DayFirst),
        ('m', 'd') => Some(DateOrder::MonthFirst),
        _ => None,
    }
}

fn numbers<const N: usize>(texts: [&str; N]) -> Option<[u32; N]> {
    let number =
        |text: &str| text.parse::<u32>().ok().filter(|_| text.bytes().all(|digit| digit.is_ascii_digit()));
    let all: Vec<u32> = texts.into_iter().map_while(number).collect();
    all.try_into().ok()
}

/// The year that two or four digits mean: 69 to 99 are years of the 20th century, and 00 to 68 of the 21st (POSIX.1,
/// `strptime`; not looked up).
fn whole_year(digits: &str, number: u32) -> Option<i16> {
    let year = match (digits.len(), number) {
        (4, year) => year,
        (2, year @ 69..) => 1900 + year,
        (2, year) => 2000 + year,
        _ => return None,
    };
    i16::try_from(year).ok()
}

fn date(year: u32, month: u32, day: u32) -> Option<Date> {
    Date::new(i16::try_from(year).ok()?, i8::try_from(month).ok()?, i8::try_from(day).ok()?)
}

/// The date of a spreadsheet's day number, such as `46297` or `46297,5`, or of eight digits, such as `20261002`.
fn days(cell: &str) -> Written {
    if cell.len() == 8
        && let Some([number]) = numbers([cell])
    {
        let date = date(number / 10_000, number / 100 % 100, number % 100);
        return date.map_or(Written::Other, Written::Clear);
    }
    let (whole, part) = cell.split_once(['.', ',']).unwrap_or((cell, ""));
    let is_part = part.bytes().all(|digit| digit.is_ascii_digit());
    let number = numbers([whole]).map(|[number]| number).filter(|number| is_part && DAYS.contains(number));
    let epoch = Date::new(1970, 1, 1);
    let date = number.zip(epoch).map(|(days, epoch)| epoch.days_later(i64::from(days) - DAYS_TO_1970));
    date.map_or(Written::Other, Written::Days)
}
