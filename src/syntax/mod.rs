//! Parses any text into a [`Tree`], with diagnostics for what is malformed. This stage knows no word of the language.

mod blocks;
mod characters;
mod parse;
mod split;
mod tree;

pub use parse::{ERRORS, FINDINGS_MAX, parse, too_many_findings};
pub use tree::{Line, Statement, Token, TokenKind, Tree};
