//! The tree of one file: its tokens, its lines, and its statements with their blocks.

use std::ops::Range;

use crate::source::{FileId, Span};

/// The form of a token.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum TokenKind {
    /// `develop`, `mq-borax`, `ml`
    Word,
    /// `20`, `2.5`, `-40`
    Number,
    /// `10:15`, `1:02:30`, `1:4`
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
    /// Its form.
    pub kind: TokenKind,
    /// Its span.
    pub span: Span,
    /// Whether an error of this token is already reported.
    pub reported: bool,
}

/// The tree of a file. Any text has one, and every byte is in a line.
#[derive(Debug, Clone)]
pub struct Tree {
    /// The file.
    pub file: FileId,
    /// All tokens in order.
    pub tokens: Vec<Token>,
    /// All lines, blank ones too; they cover the file.
    pub lines: Vec<Line>,
    /// The top-level statements.
    pub statements: Vec<Statement>,
    /// Whether it has conflict markers of a merge; then it has no statements.
    pub half_merged: bool,
}

/// One line of the file.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Line {
    /// Its bytes, line ending included.
    pub bytes: Range<u32>,
    /// Its range of [`Tree::tokens`].
    pub tokens: Range<usize>,
    /// Its comment, from the `#` on.
    pub comment: Option<Span>,
}

/// A statement: the tokens of one line, and its block.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Statement {
    /// Its index in [`Tree::lines`].
    pub line: usize,
    /// Its range of [`Tree::tokens`] without the brace; never empty.
    pub tokens: Range<usize>,
    /// From its first token to its last.
    pub span: Span,
    /// From its first token to the end of its block.
    pub extent: Span,
    /// The statements of its block; `None` if it opens none.
    pub block: Option<Vec<Statement>>,
}

impl Line {
    /// The most bytes in a line.
    pub const BYTES_MAX: u32 = 4096;

    /// Whether the line is over the limit; its tokens are then ignored.
    pub fn is_too_long(&self) -> bool {
        self.bytes.end - self.bytes.start > Line::BYTES_MAX
    }
}

impl Tree {
    /// The tokens of a statement.
    pub fn pieces(&self, statement: &Statement) -> &[Token] {
        self.tokens.get(statement.tokens.clone()).unwrap_or(&[])
    }
}
