//! A walk over the pieces of one statement, and what the next of them looks like.

use crate::source::{FileId, Span};
use crate::syntax::{Token, TokenKind};
use crate::vocabulary::{Dimension, RESERVED, ambiguous, respelled, unit};

/// Where the reader stands in a statement.
#[derive(Debug, Clone, Copy)]
pub(super) struct Cursor<'a> {
    pub(super) text: &'a str,
    pub(super) tokens: &'a [Token],
    pub(super) at: usize,
    pub(super) file: FileId,
}

/// What the next piece looks like, units taken into account.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Seen {
    End,
    Bare,
    Measured(Dimension),
    /// A number with a unit that means several, or with a word that is no unit here.
    Ambiguous,
    Share,
    Clock,
    Dilution,
    Fraction,
    Date,
    Format,
    Text,
    Word,
    Sign,
}

impl<'a> Cursor<'a> {
    /// The piece so many further on.
    pub(super) fn peek(&self, ahead: usize) -> Option<Token> {
        self.tokens.get(self.at + ahead).copied()
    }

    /// The words of a piece.
    pub(super) fn words(&self, token: Token) -> &'a str {
        self.text.get(token.span.range()).unwrap_or("")
    }

    /// The words of the piece so many further on; empty past the end.
    pub(super) fn words_at(&self, ahead: usize) -> &'a str {
        self.peek(ahead).map_or("", |token| self.words(token))
    }

    /// The place of the next piece, or the empty place behind the last.
    pub(super) fn here(&self) -> Span {
        let end = || self.tokens.last().map(|last| last.span.after());
        let nowhere = Span { file: self.file, start: 0, end: 0 };
        self.peek(0).map(|token| token.span).or_else(end).unwrap_or(nowhere)
    }

    /// The place of the last piece read.
    pub(super) fn behind(&self) -> Span {
        let last = self.at.checked_sub(1).and_then(|at| self.tokens.get(at));
        last.map_or_else(|| self.here(), |token| token.span)
    }

    /// Takes the next piece if it is this word.
    pub(super) fn take_word(&mut self, word: &str) -> Option<Span> {
        let token =
            self.peek(0).filter(|token| token.kind == TokenKind::Word && self.words(*token) == word)?;
        self.at += 1;
        Some(token.span)
    }

    /// Takes the next piece if it has this form.
    pub(super) fn take(&mut self, kind: TokenKind) -> Option<Token> {
        let token = self.peek(0).filter(|token| token.kind == kind)?;
        self.at += 1;
        Some(token)
    }

    /// How many pieces the number at the cursor has: `10`, `1/4` or `10 1/4`.
    pub(super) fn number_pieces(&self) -> usize {
        let fraction = |ahead: usize| self.peek(ahead).is_some_and(|token| token.kind == TokenKind::Fraction);
        if fraction(0) { 1 } else { 1 + usize::from(fraction(1)) }
    }

    /// What the next piece looks like.
    pub(super) fn seen(&self) -> Seen {
        let Some(token) = self.peek(0) else { return Seen::End };
        match token.kind {
            TokenKind::Number | TokenKind::Fraction => self.seen_number(token.kind),
            TokenKind::Clock => Seen::Clock,
            TokenKind::Parts => Seen::Dilution,
            TokenKind::Date => Seen::Date,
            TokenKind::Format => Seen::Format,
            TokenKind::Text | TokenKind::OpenText => Seen::Text,
            TokenKind::Word if self.words(token) == "stock" => Seen::Dilution,
            TokenKind::Word => Seen::Word,
            TokenKind::Comma | TokenKind::Open | TokenKind::Close | TokenKind::Percent | TokenKind::Stray => {
                Seen::Sign
            }
        }
    }

    fn seen_number(&self, kind: TokenKind) -> Seen {
        let pieces = self.number_pieces();
        let Some(next) = self.peek(pieces) else {
            return if kind == TokenKind::Fraction { Seen::Fraction } else { Seen::Bare };
        };
        let word = self.words(next);
        match next.kind {
            TokenKind::Percent => Seen::Share,
            // No word that means several is a unit, and most words here are units.
            TokenKind::Word => match unit(word).or_else(|| respelled(word)) {
                Some(unit) => Seen::Measured(unit.dimension),
                None if ambiguous(word).is_some() => Seen::Ambiguous,
                None if kind == TokenKind::Fraction => Seen::Fraction,
                None => Seen::Bare,
            },
            TokenKind::Stray if word == "+" => Seen::Dilution,
            TokenKind::Number if word.starts_with('+') => Seen::Dilution,
            TokenKind::Number
            | TokenKind::Clock
            | TokenKind::Parts
            | TokenKind::Date
            | TokenKind::Fraction
            | TokenKind::Format
            | TokenKind::Comma
            | TokenKind::Open
            | TokenKind::Close
            | TokenKind::Text
            | TokenKind::OpenText
            | TokenKind::Stray => {
                if kind == TokenKind::Fraction {
                    Seen::Fraction
                } else {
                    Seen::Bare
                }
            }
        }
    }

    /// Whether the next piece is this word.
    pub(super) fn sees(&self, word: &str) -> bool {
        self.peek(0).is_some_and(|token| token.kind == TokenKind::Word && self.words(token) == word)
    }

    /// Whether a number stands next.
    pub(super) fn sees_number(&self) -> bool {
        let next = self.peek(0).map(|token| token.kind);
        matches!(next, Some(TokenKind::Number | TokenKind::Fraction))
    }

    /// Whether the next piece could be a name.
    pub(super) fn sees_name(&self) -> bool {
        self.seen() == Seen::Word && !RESERVED.contains(&self.words_at(0))
    }
}
