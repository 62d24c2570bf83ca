//! Parses any text into a [`Tree`] and reports what is malformed. This stage does not know the words of the language.

mod blocks;
mod characters;
mod parse;
mod split;
mod tree;

pub use parse::{ERRORS, FINDINGS_MAX, parse, too_many_findings};
pub use tree::{Line, Statement, Token, TokenKind, Tree};
