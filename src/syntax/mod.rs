//! Parses text into a [`Tree`]. Any text has a tree; what is malformed is a diagnostic. No word of the language is used.

mod blocks;
mod characters;
mod parse;
mod tree;

pub use parse::{ERRORS, FINDINGS_MAX, parse, too_many_findings};
pub use tree::{Line, Statement, Token, TokenKind, Tree};
