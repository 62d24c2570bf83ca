//! The tree of one file: its lines as they stand, and the statements with their blocks over them.
//! It may be nonsense; it holds every byte of the file and no meaning.

use std::ops::Range;

use super::token::Token;
use crate::source::{FileId, Span};

/// A file as lines and statements.
#[derive(Debug, Clone)]
pub struct Tree {
    /// The file.
    pub file: FileId,
    /// All pieces of all lines, in order.
    pub tokens: Vec<Token>,
    /// Every line, blank ones and remarks too; their ranges meet and cover the file.
    pub lines: Vec<Line>,
    /// The statements at the top, with their blocks.
    pub statements: Vec<Statement>,
    /// Whether two versions of the file stand in it unmerged; it has no statements then.
    pub half_merged: bool,
}

/// One line of the file.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Line {
    /// Its bytes, line ending included.
    pub bytes: Range<u32>,
    /// Its pieces, as a range of [`Tree::tokens`].
    pub tokens: Range<usize>,
    /// Its remark, from the `#` on.
    pub comment: Option<Span>,
}

/// A statement: the pieces of one line, and its block if the line opens one.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Statement {
    /// The number of its line in [`Tree::lines`].
    pub line: usize,
    /// Its pieces without the brace, as a range of [`Tree::tokens`]; never empty.
    pub tokens: Range<usize>,
    /// From its first piece to its last.
    pub span: Span,
    /// From its first piece to the end of its block.
    pub extent: Span,
    /// What stands in its block; `None` where no block is opened.
    pub block: Option<Vec<Statement>>,
}

impl Line {
    /// A line may have this many bytes.
    pub const BYTES_MAX: u32 = 4096;

    /// Whether the line is longer than a line may be; nothing is read off such a line.
    #[must_use]
    pub fn is_too_long(&self) -> bool {
        self.bytes.end - self.bytes.start > Line::BYTES_MAX
    }
}

impl Tree {
    /// The pieces of a statement.
    #[must_use]
    pub fn pieces(&self, statement: &Statement) -> &[Token] {
        self.tokens.get(statement.tokens.clone()).unwrap_or(&[])
    }
}
