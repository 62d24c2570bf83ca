//! Tanks and film formats (R12).

use super::quantity::{Time, Volume};
use super::recipe::Stated;
use super::words::words;
use crate::source::Span;

/// A tank.
#[derive(Debug, Clone)]
pub struct Tank {
    /// Its name.
    pub name: String,
    /// Its title, or its name if it has none.
    pub title: String,
    /// Its header.
    pub span: Span,
    /// Its reels, one entry for each format.
    pub reels: Vec<Reels>,
    /// Its volume for rotary processing.
    pub rotary: Option<Stated<Volume>>,
    /// Its capacity.
    pub holds: Option<Stated<Volume>>,
    /// Whether it is always filled to capacity.
    pub fill_whole: bool,
    /// Its filling time.
    pub fill: Option<Stated<Time>>,
    /// Its draining time.
    pub drain: Option<Stated<Time>>,
    /// Notes for the card.
    pub notes: Vec<String>,
    /// Its cautions.
    pub cautions: Vec<String>,
}

impl Tank {
    /// The reels for a format.
    pub fn reels_for(&self, format: Format) -> Option<Reels> {
        let of = |wanted: Format| self.reels.iter().copied().find(|reels| reels.format == wanted);
        of(format).or_else(|| of(format.reel()))
    }

    /// The formats of its reels, in a sentence.
    pub fn formats(&self) -> String {
        let words: Vec<&str> = self.reels.iter().map(|reels| reels.format.word()).collect();
        words.join(", ")
    }
}

/// `reels 120 x 5, 500 ml each`.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Reels {
    /// The format.
    pub format: Format,
    /// The most rolls.
    pub most: u32,
    /// The volume for one.
    pub each: Volume,
    /// The span that states it.
    pub span: Span,
}

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
    /// Its film in twelfths of a roll of 80 square inches (516 cm²).
    pub fn twelfths(self) -> u32 {
        match self {
            Format::F120 | Format::F135 | Format::Sheet8x10 => 12,
            Format::F220 => 24,
            Format::F135x24 => 8,
            Format::Sheet4x5 => 3,
        }
    }

    /// The format of its reel: 120 for 220, 135 for 135-24.
    pub fn reel(self) -> Format {
        match self {
            Format::F220 => Format::F120,
            Format::F135x24 => Format::F135,
            _ => self,
        }
    }

    /// Whether it is sheet film.
    pub fn is_sheet(self) -> bool {
        matches!(self, Format::Sheet4x5 | Format::Sheet8x10)
    }
}

/// A number of rolls of one format.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Rolls {
    /// The number, at least one.
    pub count: u32,
    /// The format.
    pub format: Format,
}
