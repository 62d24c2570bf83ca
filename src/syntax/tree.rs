//! The tree of one file: its tokens, its lines, and its statements with their blocks.

use std::ops::Range;

use crate::source::{FileId, Span};

/// What a token is, judged by its characters alone.
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
    /// any other character, such as `@`
    Stray,
}

/// A word, a value, a sign or a text of a line, with its place.
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
    /// The file that was parsed.
    pub file: FileId,
    /// All tokens in order.
    pub tokens: Vec<Token>,
    /// All lines of the file, including blank lines.
    pub lines: Vec<Line>,
    /// The statements outside of all blocks.
    pub statements: Vec<Statement>,
    /// Whether the file has conflict markers of a merge; the tree then has no statements.
    pub half_merged: bool,
}

/// One line of the file.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Line {
    /// The bytes of the line in the file's text, including the line ending.
    pub bytes: Range<u32>,
    /// The range of the line's tokens in [`Tree::tokens`].
    pub tokens: Range<usize>,
    /// The span of the line's comment, from the `#` on.
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
    /// The tokens with the indices in `range`, such as [`Line::tokens`] or [`Statement::tokens`].
    pub fn tokens_in(&self, range: &Range<usize>) -> &[Token] {
        self.tokens.get(range.clone()).unwrap_or(&[])
    }
}
