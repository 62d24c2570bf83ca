//! The table of the language's statements. Each statement is a type with a pattern, named slots for its values, the
//! blocks that may have it, and a meaning. The reader of recipes, the suggestions and the reference all use this table.

mod collections;
mod darkroom;
mod files;
mod kind;
mod pattern;
mod reading;
mod recipes;
mod row;
pub(crate) mod say;
mod shelf;
mod slot;
mod suggest;
mod table;
mod tanks;
mod trials;
mod units;
mod value;

pub use kind::{Declared, Kind};
pub use pattern::{Form, NEWER_CHOICES, OLDER_WORDS, Part, pattern_text};
pub(crate) use reading::{Item, Lines, Matched, Reading};
pub use row::{Block, EDITION, Often, Row};
pub(crate) use slot::Capture;
pub(crate) use slot::Statement;
pub use suggest::{offer_near, suggest};
pub use table::{blocks_of, row_of, rows, rows_of};
pub use units::{NEWER_UNITS, Readings, Unit, ambiguities, ambiguous, respelled, unit, units};
pub(crate) use value::Value;
pub(crate) use value::{Count, Index};
#[cfg(feature = "cli")]
pub(crate) use value::{Density, Moment, Tap};

/// Words of the language that cannot be the name of a step, of a bottle of a solution, or of one of two baths.
pub const RESERVED_INSIDE: &[&str] = &["before", "after", "from", "to", "at", "for"];

/// Words that cannot be the name of a declaration of the kind beside them in edition 2. Edition 1 of the language lacks
/// these words, so its files may use them as names.
pub const RESERVED_OF_KIND: &[(Declared, &str)] = &[(Declared::Solution, "used"), (Declared::Film, "any")];

/// Words of the language that cannot be the name of a declaration.
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
