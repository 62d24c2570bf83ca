//! The tree of one file: its tokens, its lines, and its statements with their blocks.

use std::ops::Range;

use crate::source::{FileId, Span};

/// The kind of a token.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum TokenKind {
    /// `develop`, `mq-borax`, `ml`, `2026-11-16-7m2q`
    Word,
    /// `20`, `2.5`, `-40`
    Number,
    /// `10:15`, `1:02:30`; also `1:4`, which the check refuses
    Clock,
    /// `1+4`, `1+9+40`
    Parts,
    /// `2026-11-25`
    Date,
    /// `1/4`
    Fraction,
    /// `4x5in`, `135-24`
    Format,
    /// `,`
    Comma,
    /// `{`
    Open,
    /// `}`
    Close,
    /// `%`
    Percent,
    /// `"a text"`
    Text,
    /// `"a text without a closing quote`
    OpenText,
    /// a character that no statement uses
    Stray,
}

/// A token.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Token {
    /// The kind of the token.
    pub kind: TokenKind,
    /// The span of the token.
    pub span: Span,
    /// Whether an error in this token has been reported.
    pub reported: bool,
}

/// The tree of a file. Every text has one, and its lines contain every byte of the text.
#[derive(Debug, Clone)]
pub struct Tree {
    /// The file.
    pub file: FileId,
    /// All tokens in order.
    pub tokens: Vec<Token>,
    /// All lines of the file, including blank lines.
    pub lines: Vec<Line>,
    /// The top-level statements.
    pub statements: Vec<Statement>,
    /// Whether the file has conflict markers of a merge; the tree then has no statements.
    pub half_merged: bool,
}

/// One line of the file.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Line {
    /// The bytes, including the line ending.
    pub bytes: Range<u32>,
    /// The range of the line's tokens in [`Tree::tokens`].
    pub tokens: Range<usize>,
    /// The comment, from its `#` on.
    pub comment: Option<Span>,
}

/// A statement: the tokens of one line, and its block.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Statement {
    /// The index of the statement's line in [`Tree::lines`].
    pub line: usize,
    /// The range of the statement's tokens in [`Tree::tokens`], without the opening brace; never empty.
    pub tokens: Range<usize>,
    /// The span from the first token of the statement to the last.
    pub span: Span,
    /// The span from the first token of the statement to the end of its block.
    pub extent: Span,
    /// The statements in the block, if this statement opens a block.
    pub block: Option<Vec<Statement>>,
}

impl Line {
    /// The most bytes in a line.
    pub const BYTES_MAX: u32 = 4096;

    /// Whether the line is longer than [`Line::BYTES_MAX`]; its tokens are then ignored.
    pub fn is_too_long(&self) -> bool {
        self.bytes.end - self.bytes.start > Line::BYTES_MAX
    }
}

impl Tree {
    /// The tokens in this range, which is that of a line or of a statement.
    pub fn tokens_in(&self, range: &Range<usize>) -> &[Token] {
        self.tokens.get(range.clone()).unwrap_or(&[])
    }
}
