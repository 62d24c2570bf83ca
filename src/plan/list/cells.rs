//! The cells of a list: spaces and capital letters, formats, exposure indexes and pushes.

use crate::model::{Format, both_speeds};

/// The characters that begin a formula in a spreadsheet, and their full-width forms. A tab or a carriage return can
/// begin a formula too; the outputs have neither.
const FORMULA: [char; 8] = ['=', '+', '-', '@', '＝', '＋', '－', '＠'];
const INDEX_MAX: u32 = 1_000_000;

/// The text of a cell, with an apostrophe before a formula, so that a spreadsheet takes it for text. A formula after a
/// semicolon gets one too, because some spreadsheets begin a new cell there even inside quotes.
pub fn guarded(words: &str) -> String {
    let safe = |cell: &str| if begins_formula(cell) { format!("'{cell}") } else { cell.to_owned() };
    words.split(';').map(safe).collect::<Vec<_>>().join(";")
}

/// The text of a cell without the apostrophes that [`guarded`] adds.
fn unguarded(cell: &str) -> String {
    let own = |part: &str| match part.strip_prefix('\'') {
        Some(rest) if begins_formula(rest) => rest.to_owned(),
        _ => part.to_owned(),
    };
    cell.split(';').map(own).collect::<Vec<_>>().join(";")
}

fn begins_formula(cell: &str) -> bool {
    cell.trim_start_matches(|letter: char| letter.is_whitespace() || letter == '"').starts_with(FORMULA)
}

/// A cell without spaces at its ends, and without the apostrophes of [`guarded`]. Non-breaking spaces become plain
/// spaces.
pub(super) fn clean(cell: &str) -> String {
    let is_space = |letter: char| matches!(letter, '\u{a0}' | '\u{2007}' | '\u{202f}');
    let plain: String = cell.chars().map(|letter| if is_space(letter) { ' ' } else { letter }).collect();
    unguarded(plain.trim())
}

/// The name of a column, in lower case and with single spaces.
pub(super) fn name(cell: &str) -> String {
    clean(cell).to_lowercase().split_whitespace().collect::<Vec<_>>().join(" ")
}

/// A name in lower case, with `-` for its spaces, hyphens and underscores: `marsh-100` for `Marsh 100`.
pub(super) fn spelling(cell: &str) -> String {
    let is_between = |letter: char| letter.is_whitespace() || matches!(letter, '-' | '_');
    let words = cell.split(is_between).filter(|word| !word.is_empty());
    words.map(str::to_lowercase).collect::<Vec<_>>().join("-")
}

/// The format in a cell. `120.0`, `4 x 5 in`, `4×5in`, `135/24` and `35 mm` are spellings of formats.
pub(super) fn format(cell: &str) -> Option<Format> {
    let cell: String = cell.to_lowercase().split_whitespace().collect();
    if cell == "35mm" {
        return Some(Format::F135);
    }
    let word = whole(&cell).replace('×', "x").replace('/', "-");
    Format::parse(&word).or_else(|| Format::parse(&word.replace(',', ".")))
}

/// A number without its decimals, if these are all zeros: `120` for `120.0`, and `400` for `400,00`.
fn whole(cell: &str) -> &str {
    match cell.split_once(['.', ',']) {
        Some((before, after)) if !after.is_empty() && after.bytes().all(|digit| digit == b'0') => {
            // Three zeros may be thousands: `1.000` can mean 1000.
            if after.len() == 3 { cell } else { before }
        }
        _ => cell,
    }
}

/// The exposure index of a roll, as a cell states it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Exposure {
    Unstated,
    Index(u32),
    /// The push in thirds of a stop: 3 for `+1`.
    Pushed(i32),
}

/// The exposure index that a cell of the column `index` states; `None` if the cell states something else.
pub(super) fn exposure(cell: &str) -> Option<Exposure> {
    let cell = cell.to_uppercase();
    let words = ["EI", "ISO"].iter().find_map(|word| cell.strip_prefix(word)).unwrap_or(&cell).trim();
    if words.is_empty() {
        return cell.is_empty().then_some(Exposure::Unstated);
    }
    if words.starts_with(['+', '-', '−', '–', 'N']) {
        return thirds(words).map(Exposure::Pushed);
    }
    let words = words.trim_end_matches('°').trim_end();
    let number = whole(words).parse::<u32>().ok().or_else(|| both_speeds(words));
    number.filter(|index| (1..=INDEX_MAX).contains(index)).map(Exposure::Index)
}

/// The push that a cell of the column `push` states; `None` if it is not a number of stops. A number without a sign is
/// a push.
pub(super) fn push(cell: &str) -> Option<Exposure> {
    if cell.is_empty() {
        return Some(Exposure::Unstated);
    }
    Some(match thirds(&cell.to_uppercase())? {
        0 => Exposure::Unstated,
        thirds => Exposure::Pushed(thirds),
    })
}

/// The thirds of a stop in a cell such as `+1`, `N+1`, `−1 1/3`, `+0,7` or `2 STOPS`; `None` for other words.
fn thirds(words: &str) -> Option<i32> {
    let words = words.strip_prefix('N').unwrap_or(words).trim();
    if words.is_empty() {
        return Some(0);
    }
    let words =
        words.strip_suffix("STOPS").or_else(|| words.strip_suffix("STOP")).unwrap_or(words).trim_end();
    let (sign, number) = match words.strip_prefix(['-', '−', '–']) {
        Some(number) => (-1, number),
        None => (1, words.strip_prefix('+').unwrap_or(words)),
    };
    let number = number.trim();
    let (stops, part) = match number.split_once(['.', ',', ' ']) {
        Some((stops, part)) => (stops, part),
        None if number.contains('/') => ("0", number),
        None => (number, "0"),
    };
    let part = match part {
        "0" | "00" => 0,
        "1/3" | "3" | "33" => 1,
        "2/3" | "7" | "67" => 2,
        _ => return None,
    };
    // No film is pushed by more than 9 stops.
    let stops = stops.parse::<i32>().ok().filter(|stops| (0..=9).contains(stops))?;
    Some(sign * (3 * stops + part))
}
