//! Film formats, and what one evening's rolls come to (R12).

use super::words::words;

words! {
    /// A film format.
    pub enum Format {
        /// 120 roll film.
        F120 = "120",
        /// 220 roll film, twice as long.
        F220 = "220",
        /// 135, 36 exposures.
        F135 = "135",
        /// 135, 24 exposures.
        F135x24 = "135-24",
        /// A sheet of 4 by 5 inches.
        Sheet4x5 = "4x5in",
        /// A sheet of 8 by 10 inches.
        Sheet8x10 = "8x10in",
    }
}

impl Format {
    /// Its film in twelfths of a roll, a roll being 80 square inches (516 cm²): one 120, one 135 of
    /// 36, four sheets of 4×5 in, one of 8×10 in.
    #[must_use]
    pub fn twelfths(self) -> u32 {
        match self {
            Format::F120 | Format::F135 | Format::Sheet8x10 => 12,
            Format::F220 => 24,
            Format::F135x24 => 8,
            Format::Sheet4x5 => 3,
        }
    }

    /// The reel it goes on: 220 on a 120 reel, 135-24 on a 135 reel.
    #[must_use]
    pub fn reel(self) -> Format {
        match self {
            Format::F220 => Format::F120,
            Format::F135x24 => Format::F135,
            Format::F120 | Format::F135 | Format::Sheet4x5 | Format::Sheet8x10 => self,
        }
    }

    /// Whether it is cut film.
    #[must_use]
    pub fn is_sheet(self) -> bool {
        matches!(self, Format::Sheet4x5 | Format::Sheet8x10)
    }
}

/// So many of one format.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub struct Rolls {
    /// How many, at least one.
    pub count: u32,
    /// Of what.
    pub format: Format,
}
