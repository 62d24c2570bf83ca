//! One piece of a line: what form it has and where it stands. What it means is not known here.

use crate::source::Span;

/// The form of a piece.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum TokenKind {
    /// `develop`, `mq-borax`, `ml`
    Word,
    /// `20`, `2.5`, `-40`
    Number,
    /// `10:15`, `1:02:30`, and also the doubtful `1:4`
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
    /// `"a text without its end`
    OpenText,
    /// a character that no statement has
    Stray,
}

/// A piece of a line.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Token {
    /// Its form.
    pub kind: TokenKind,
    /// Where it stands.
    pub span: Span,
    /// Whether it is at fault by itself and that is told, so that nobody need tell it again.
    pub told: bool,
}
