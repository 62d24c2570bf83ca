//! Tanks and film formats (R12).

use super::quantity::{Time, Volume};
use super::recipe::Stated;
use super::words::words;
use crate::source::Span;

/// A tank.
#[derive(Debug, Clone)]
pub struct Tank {
    /// The tank's name.
    pub name: String,
    /// The tank's title, or else the tank's name.
    pub title: String,
    /// The tank's header.
    pub span: Span,
    /// The reels, one entry for each format.
    pub reels: Vec<Reels>,
    /// The volume to fill in for rotary processing, if stated.
    pub rotary: Option<Stated<Volume>>,
    /// The volume that the tank holds, if stated.
    pub holds: Option<Stated<Volume>>,
    /// Whether the tank is always filled completely.
    pub fill_whole: bool,
    /// The time to fill the tank, if stated.
    pub fill: Option<Stated<Time>>,
    /// The time to drain the tank, if stated.
    pub drain: Option<Stated<Time>>,
    /// Notes for the card.
    pub notes: Vec<String>,
    /// The tank's cautions.
    pub cautions: Vec<String>,
}

impl Tank {
    /// The reels for a format.
    pub fn reels_for(&self, format: Format) -> Option<Reels> {
        let of = |wanted: Format| self.reels.iter().copied().find(|reels| reels.format == wanted);
        of(format).or_else(|| of(format.reel()))
    }

    /// The formats of the reels as a list: `120, 135`.
    pub fn formats(&self) -> String {
        let words: Vec<&str> = self.reels.iter().map(|reels| reels.format.word()).collect();
        words.join(", ")
    }
}

/// The reels for one format, as in `reels 120 x 5, 500 ml each`.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Reels {
    /// The format.
    pub format: Format,
    /// The most rolls on these reels.
    pub most: u32,
    /// The volume that covers one reel.
    pub each: Volume,
    /// The span of the reels.
    pub span: Span,
}

words! {
    /// A film format.
    pub enum Format {
        /// 120 roll film.
        F120 = "120",
        /// 220 roll film, twice 120's length.
        F220 = "220",
        /// 135 film with 36 exposures.
        F135 = "135",
        /// 135 film with 24 exposures.
        F135x24 = "135-24",
        /// A sheet of 4 by 5 inches.
        Sheet4x5 = "4x5in",
        /// A sheet of 8 by 10 inches.
        Sheet8x10 = "8x10in",
    }
}

impl Format {
    /// The area of one roll or sheet, in twelfths of a roll of 80 square inches (516 cm²).
    pub fn twelfths(self) -> u32 {
        match self {
            Format::F120 | Format::F135 | Format::Sheet8x10 => 12,
            Format::F220 => 24,
            Format::F135x24 => 8,
            Format::Sheet4x5 => 3,
        }
    }

    /// The format whose reel takes this format: 120 for 220, 135 for 135-24.
    pub fn reel(self) -> Format {
        match self {
            Format::F220 => Format::F120,
            Format::F135x24 => Format::F135,
            _ => self,
        }
    }

    /// Whether this is sheet film.
    pub fn is_sheet(self) -> bool {
        matches!(self, Format::Sheet4x5 | Format::Sheet8x10)
    }
}

/// Some rolls of one format.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Rolls {
    /// The number of rolls, at least one.
    pub count: u32,
    /// The format.
    pub format: Format,
}
