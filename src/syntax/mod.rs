//! Text to [`Tree`]. Parsing cannot fail: any text is a tree, and whatever no line may hold comes
//! beside it as diagnostics. Knows the shape of lines and blocks, and no word of the language.

mod faults;
mod foreign;
mod grammar;
mod hang;
mod parse;
mod phrase;
mod signs;
mod token;
mod tree;

pub use faults::{FAULTS, FINDINGS_MAX, too_many_findings};
pub use parse::parse;
pub use token::{Token, TokenKind};
pub use tree::{Line, Statement, Tree};
