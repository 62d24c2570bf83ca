//! The one table of words: every statement, where it may stand, what it takes, how often, what it
//! means. The reader, 'did you mean' and the reference are drawn from it.

mod column;
mod darkroom;
mod files;
mod kind;
mod pattern;
mod recipes;
mod row;
mod shelf;
mod suggest;
mod table;
mod tanks;
mod units;

pub use column::column;
pub use kind::{Declared, Kind};
pub use pattern::{Part, pattern_text};
pub use row::{Block, Often, Row};
pub use suggest::{offer_near, suggest};
pub use table::{rows, rows_of};
pub use units::{Ambiguous, Dimension, Unit, ambiguities, ambiguous, respelled, unit, units};

/// Words that the grammar of statements needs, so nothing may be named by them.
pub const RESERVED: &[&str] = &[
    "before",
    "after",
    "from",
    "without",
    "as",
    "in",
    "none",
    "continuous",
    "rotary",
    "stock",
    "water",
    "no-water",
    "first",
    "then",
    "every",
    "at",
    "by",
    "knock",
    "inversion",
    "for",
    "to",
    "each",
    "x",
    "per",
];
