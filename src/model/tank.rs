//! Tanks, their reels, and the rolls in a tank (R12).

use super::format::Format;
use super::quantity::{Time, Volume};
use super::recipe::Stated;
use crate::source::Span;

/// A tank, a drum, or trays, with room for a number of rolls or sheets.
#[derive(Debug, Clone)]
pub struct Tank {
    /// The tank's name.
    pub name: String,
    /// The tank's title, or else the tank's name.
    pub title: String,
    /// The span of the tank's header line.
    pub span: Span,
    /// The reels, one entry for each format.
    pub reels: Vec<Reels>,
    /// The volume of each bath when the tank is used as a rotary drum, if stated.
    pub rotary: Option<Stated<Volume>>,
    /// The volume that the tank holds, if stated.
    pub holds: Option<Stated<Volume>>,
    /// Whether the tank is always filled completely.
    pub fill_whole: bool,
    /// The time to fill the tank, if stated.
    pub fill: Option<Stated<Time>>,
    /// The time to drain the tank, if stated.
    pub drain: Option<Stated<Time>>,
    /// How long it takes to move the material from bath to bath, if the baths stay in their vessels.
    pub transfer: Option<Stated<Transfer>>,
    /// The tank's notes, which the card shows.
    pub notes: Vec<String>,
    /// The tank's cautions.
    pub cautions: Vec<String>,
}

impl Tank {
    /// The reels that take a format: those for this format, else those for a format that uses the same reel (120 for
    /// 220). For a strip, else the shortest reels that take it.
    pub fn reels_for(&self, format: Format) -> Option<Reels> {
        let of = |wanted: Format| self.reels.iter().copied().find(|reels| reels.format == wanted);
        let longer = || self.reels.iter().copied().filter(|reels| reels.format.takes_strip(format));
        let shortest = || longer().min_by_key(|reels| reels.format.area());
        of(format).or_else(|| of(format.reel())).or_else(shortest)
    }

    /// The formats of the reels as a list: `120, 135`.
    pub fn formats(&self) -> String {
        let words: Vec<String> = self.reels.iter().map(|reels| reels.format.to_string()).collect();
        words.join(", ")
    }
}

/// How long it takes to lift the material, let it drip and lay it into the next bath.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Transfer {
    /// How long one transfer takes.
    pub time: Time,
    /// Whether the time is for each roll or sheet, and not for all together.
    pub each: bool,
}

/// The reels for one format, as in `reels 120 x 5, 500 ml each`.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Reels {
    /// The format that the reels take.
    pub format: Format,
    /// The greatest number of rolls on these reels.
    pub most: u32,
    /// The volume of bath that covers one of these reels.
    pub each: Volume,
    /// The span of the line that states the reels.
    pub span: Span,
}

/// Some rolls of one format.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Rolls {
    /// The number of rolls, at least one.
    pub count: u32,
    /// The format of these rolls.
    pub format: Format,
}
