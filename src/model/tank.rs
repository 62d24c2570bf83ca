//! A tank, a drum or a tray: what it takes and how fast it fills.

use super::format::Format;
use super::quantity::{Time, Volume};
use super::stated::Stated;
use crate::source::Span;

/// A tank.
#[derive(Debug, Clone)]
pub struct Tank {
    /// Its name as declared, without a prefix.
    pub name: String,
    /// Its title, or its name where it has none.
    pub title: String,
    /// Its declaration's header.
    pub span: Span,
    /// What it takes, one row a format.
    pub reels: Vec<Reels>,
    /// What it takes when it turns on its side, whatever is loaded.
    pub rotary: Option<Stated<Volume>>,
    /// The most it holds.
    pub holds: Option<Stated<Volume>>,
    /// Whether it is always filled whole.
    pub fill_whole: bool,
    /// How long it takes to fill.
    pub fill: Option<Stated<Time>>,
    /// How long it takes to drain.
    pub drain: Option<Stated<Time>>,
    /// Remarks for the card.
    pub notes: Vec<String>,
    /// Cautions of its own.
    pub cautions: Vec<String>,
}

impl Tank {
    /// The reels that it has for a format: its own, or those of the format it is wound on.
    #[must_use]
    pub fn reels_for(&self, format: Format) -> Option<Reels> {
        let of = |wanted: Format| self.reels.iter().copied().find(|reels| reels.format == wanted);
        of(format).or_else(|| of(format.reel()))
    }
}

/// `reels 120 x 5, 500 ml each`.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Reels {
    /// The format.
    pub format: Format,
    /// The most of it.
    pub most: u32,
    /// What covers one.
    pub each: Volume,
    /// Where it says so.
    pub span: Span,
}
