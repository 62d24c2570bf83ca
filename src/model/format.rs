//! Film formats and their areas (R12).

use std::cmp::Ordering;
use std::fmt::{Display, Formatter, Result};

use super::quantity::decimal;
use super::words::words;

/// The format of a roll, a sheet, a plate, a print or a strip.
#[derive(Debug, Clone, Copy)]
pub enum Format {
    /// 120 roll film.
    F120,
    /// 220 roll film, twice as long as 120.
    F220,
    /// 135 film with this many exposures.
    Frames(u32),
    /// A rectangle, with its sides in the order in which they are written.
    Rectangle(Side, Side),
}

/// A side of a rectangle.
#[derive(Debug, Clone, Copy)]
pub struct Side {
    /// The length in hundredths of a millimetre.
    pub length: i64,
    /// The unit in which the length is written.
    pub unit: LengthUnit,
}

words! {
    /// The units of a length.
    pub enum LengthUnit {
        Millimetres = "mm",
        Centimetres = "cm",
        Metres = "m",
        Inches = "in",
        Feet = "ft",
    }
}

impl LengthUnit {
    /// The length of one unit in hundredths of a millimetre, exact: an inch is 25.4 mm, a foot 12 inches (NIST SP 811).
    pub const fn size(self) -> i64 {
        match self {
            LengthUnit::Millimetres => 100,
            LengthUnit::Centimetres => 1000,
            LengthUnit::Metres => 100_000,
            LengthUnit::Inches => 2540,
            LengthUnit::Feet => 12 * 2540,
        }
    }
}

/// The limits of a rectangle's sides in hundredths of a millimetre: the least and the greatest length (5 mm and 1 km),
/// and the greatest length of the shorter side (3 m).
const SIDES: (i64, i64, i64) = (500, 100_000_000, 300_000);
/// A rectangle this many times as long as wide is a strip for a spiral, not a sheet (common practice, no source).
const STRIP: i64 = 10;
/// The exposures of a full 135 film.
const FULL: u32 = 36;
/// The most exposures of a 135 film: some films that people load by hand are longer than those sold.
const FRAMES_MAX: u32 = 48;

impl Format {
    /// 135 film with 36 exposures.
    pub const F135: Format = Format::Frames(FULL);
    /// 135 film with 24 exposures.
    pub const F135X24: Format = Format::Frames(24);
    /// A sheet of 4 by 5 inches.
    pub const SHEET_4X5: Format = inches(4, 5);
    /// A sheet of 8 by 10 inches.
    pub const SHEET_8X10: Format = inches(8, 10);
    /// The formats that edition 1 of the language has.
    pub const FIRST: [Format; 6] =
        [Format::F120, Format::F220, Format::F135, Format::F135X24, Format::SHEET_4X5, Format::SHEET_8X10];
    /// The formats that help texts name.
    pub const EXAMPLES: &'static str =
        "120, 220, 135, 135-24, or a width and a length such as 4x5in, 9x12cm or 16mmx50ft";
    /// The area of a roll, 80 square inches, in units of (1/300 mm)². With this unit, the area of a sheet in inches or
    /// millimetres, or of a 135 film with any number of exposures, is a whole number.
    pub const ROLL: i64 = 9 * 80 * 2540 * 2540;

    /// The format that is written as this word, such as `135-24` or `9x12cm`; `None` if the word is no format.
    pub fn parse(word: &str) -> Option<Format> {
        match word {
            "120" => return Some(Format::F120),
            "220" => return Some(Format::F220),
            "135" => return Some(Format::F135),
            _ => {}
        }
        if let Some(frames) = word.strip_prefix("135-") {
            let frames = frames.parse().ok().filter(|frames| (1..=FRAMES_MAX).contains(frames));
            return frames.filter(|_| !word.contains("-0")).map(Format::Frames);
        }
        let (width, length) = word.split_once('x')?;
        let ((width, first), (length, second)) = (number_and_unit(width)?, number_and_unit(length)?);
        let width = side(width, first.or(second)?)?;
        let length = side(length, second.or(first)?)?;
        (width.length.min(length.length) <= SIDES.2).then_some(Format::Rectangle(width, length))
    }

    /// The area of one side of a roll, sheet or strip, in units of (1/300 mm)², as in [`Format::ROLL`].
    pub fn area(self) -> i64 {
        match self {
            Format::F120 => Format::ROLL,
            Format::F220 => 2 * Format::ROLL,
            Format::Frames(frames) => Format::ROLL / i64::from(FULL) * i64::from(frames),
            Format::Rectangle(width, length) => 9 * width.length * length.length,
        }
    }

    /// The format whose reel takes this format: 120 for 220, 135 for 135-24.
    pub fn reel(self) -> Format {
        match self {
            Format::F220 => Format::F120,
            Format::Frames(_) => Format::F135,
            _ => self,
        }
    }

    /// Whether a reel for this format takes `strip`, which must be a strip of the same width that is not longer.
    pub fn takes_strip(self, strip: Format) -> bool {
        match (self.sides(), strip.sides()) {
            (Some((width, length)), Some((own, short))) => {
                strip.is_strip() && width == own && short <= length
            }
            _ => false,
        }
    }

    /// Whether this is a sheet, a plate or a print.
    pub fn is_sheet(self) -> bool {
        matches!(self, Format::Rectangle(..)) && !self.is_strip()
    }

    /// Whether this is a strip, such as cine film.
    pub fn is_strip(self) -> bool {
        self.sides().is_some_and(|(width, length)| STRIP * width <= length)
    }

    /// What one piece is called: roll, sheet or strip.
    pub fn piece(self) -> &'static str {
        match self {
            Format::Rectangle(..) if self.is_strip() => "strip",
            Format::Rectangle(..) => "sheet",
            _ => "roll",
        }
    }

    /// The lengths of the shorter and the longer side of a rectangle; `None` for other formats.
    fn sides(self) -> Option<(i64, i64)> {
        let Format::Rectangle(one, other) = self else { return None };
        Some((one.length.min(other.length), one.length.max(other.length)))
    }

    /// The key by which formats are compared. `4x5in` and `5x4in` have the same key, and units do not matter.
    fn key(self) -> (u8, i64, i64) {
        match self {
            Format::F120 => (0, 0, 0),
            Format::F220 => (1, 0, 0),
            Format::Frames(frames) => (2, -i64::from(frames), 0),
            Format::Rectangle(..) => {
                let (width, length) = self.sides().unwrap_or_default();
                (3, width, length)
            }
        }
    }
}

const fn inches(width: i64, length: i64) -> Format {
    let unit = LengthUnit::Inches;
    Format::Rectangle(Side { length: width * unit.size(), unit }, Side { length: length * unit.size(), unit })
}

/// The number of a side such as `9` or `9.5cm`, in hundredths, and its unit, if one follows.
fn number_and_unit(text: &str) -> Option<(i64, Option<LengthUnit>)> {
    let end = text.find(|letter: char| letter != '.' && !letter.is_ascii_digit()).unwrap_or(text.len());
    let (number, unit) = text.split_at_checked(end)?;
    let unit = if unit.is_empty() { None } else { Some(LengthUnit::parse(unit)?) };
    let (whole, part) = number.split_once('.').unwrap_or((number, "0"));
    let is_number = !whole.is_empty() && (1..=2).contains(&part.len()) && whole.len() <= 9;
    let whole: i64 = whole.parse().ok().filter(|_| is_number)?;
    let part: i64 = format!("{part:0<2}").parse().ok()?;
    Some((whole.checked_mul(100)?.checked_add(part)?, unit))
}

fn side(hundredths: i64, unit: LengthUnit) -> Option<Side> {
    let length = hundredths.checked_mul(unit.size())?.checked_add(50)? / 100;
    (SIDES.0..=SIDES.1).contains(&length).then_some(Side { length, unit })
}

/// As a recipe writes it: `120`, `135-24`, `9x12cm`, `16mmx50ft`.
impl Display for Format {
    fn fmt(&self, out: &mut Formatter<'_>) -> Result {
        match self {
            Format::F120 => out.pad("120"),
            Format::F220 => out.pad("220"),
            Format::Frames(FULL) => out.pad("135"),
            Format::Frames(frames) => out.pad(&format!("135-{frames}")),
            Format::Rectangle(width, length) => {
                let number = |side: &Side| decimal(side.length, side.unit.size(), 2);
                let unit = if width.unit == length.unit { "" } else { width.unit.word() };
                out.pad(&format!("{}{unit}x{}{}", number(width), number(length), length.unit.word()))
            }
        }
    }
}

impl PartialEq for Format {
    fn eq(&self, other: &Format) -> bool {
        self.key() == other.key()
    }
}

impl Eq for Format {}

impl PartialOrd for Format {
    fn partial_cmp(&self, other: &Format) -> Option<Ordering> {
        Some(self.cmp(other))
    }
}

impl Ord for Format {
    fn cmp(&self, other: &Format) -> Ordering {
        self.key().cmp(&other.key())
    }
}
