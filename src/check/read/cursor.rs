//! A position among the pieces of a statement, and what the next piece looks like.

use crate::source::{FileId, Span};
use crate::syntax::{Token, TokenKind};
use crate::vocabulary::{Dimension, RESERVED, ambiguous, respelled, unit};

/// The position of the reader in a statement.
#[derive(Debug, Clone, Copy)]
pub(super) struct Cursor<'a> {
    pub(super) text: &'a str,
    pub(super) tokens: &'a [Token],
    pub(super) at: usize,
    pub(super) file: FileId,
}

/// What the next piece looks like, together with its unit.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Seen {
    End,
    Bare,
    Measured(Dimension),
    /// A number with a unit that has several meanings.
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
    /// The piece this many after the next.
    pub(super) fn peek(&self, ahead: usize) -> Option<Token> {
        self.tokens.get(self.at + ahead).copied()
    }

    /// The text of a place in the statement.
    pub(super) fn text_of(&self, span: Span) -> &'a str {
        self.text.get(span.range()).unwrap_or("")
    }

    /// The text of a piece.
    pub(super) fn words(&self, token: Token) -> &'a str {
        self.text_of(token.span)
    }

    /// The text of the piece this many after the next; empty past the end.
    pub(super) fn words_at(&self, ahead: usize) -> &'a str {
        self.peek(ahead).map_or("", |token| self.words(token))
    }

    /// The place of the next piece, or the empty place after the last.
    pub(super) fn next(&self) -> Span {
        let end = || self.tokens.last().map(|last| last.span.after());
        let nowhere = Span { file: self.file, start: 0, end: 0 };
        self.peek(0).map(|token| token.span).or_else(end).unwrap_or(nowhere)
    }

    /// The place of the last piece that was taken.
    pub(super) fn last(&self) -> Span {
        let last = self.at.checked_sub(1).and_then(|at| self.tokens.get(at));
        last.map_or_else(|| self.next(), |token| token.span)
    }

    /// Takes the next piece if it is this word.
    pub(super) fn take_word(&mut self, word: &str) -> Option<Span> {
        if self.sees(word) { self.take(TokenKind::Word).map(|token| token.span) } else { None }
    }

    /// Takes the next piece if it is of this kind.
    pub(super) fn take(&mut self, kind: TokenKind) -> Option<Token> {
        let token = self.peek(0).filter(|token| token.kind == kind)?;
        self.at += 1;
        Some(token)
    }

    /// How many pieces the next number has: `10`, `1/4` or `10 1/4`.
    pub(super) fn number_pieces(&self) -> usize {
        let fraction = |ahead: usize| self.peek(ahead).is_some_and(|token| token.kind == TokenKind::Fraction);
        if fraction(0) { 1 } else { 1 + usize::from(fraction(1)) }
    }

    /// What the next piece looks like.
    pub(super) fn seen(&self) -> Seen {
        let Some(token) = self.peek(0) else { return Seen::End };
        match token.kind {
            TokenKind::Number => self.seen_number(Seen::Bare),
            TokenKind::Fraction => self.seen_number(Seen::Fraction),
            TokenKind::Clock => Seen::Clock,
            TokenKind::Parts => Seen::Dilution,
            TokenKind::Date => Seen::Date,
            TokenKind::Format => Seen::Format,
            TokenKind::Text | TokenKind::OpenText => Seen::Text,
            TokenKind::Word if self.words(token) == "stock" => Seen::Dilution,
            TokenKind::Word => Seen::Word,
            _ => Seen::Sign,
        }
    }

    fn seen_number(&self, alone: Seen) -> Seen {
        let Some(next) = self.peek(self.number_pieces()) else { return alone };
        let word = self.words(next);
        match next.kind {
            TokenKind::Percent => Seen::Share,
            TokenKind::Word => match unit(word).or_else(|| respelled(word)) {
                Some(unit) => Seen::Measured(unit.dimension),
                None if ambiguous(word).is_some() => Seen::Ambiguous,
                None => alone,
            },
            TokenKind::Stray if word == "+" => Seen::Dilution,
            TokenKind::Number if word.starts_with('+') => Seen::Dilution,
            _ => alone,
        }
    }

    /// Whether the next piece is this word.
    pub(super) fn sees(&self, word: &str) -> bool {
        self.peek(0).is_some_and(|token| token.kind == TokenKind::Word && self.words(token) == word)
    }

    /// Whether the next piece is a number.
    pub(super) fn sees_number(&self) -> bool {
        self.peek(0).is_some_and(|token| matches!(token.kind, TokenKind::Number | TokenKind::Fraction))
    }

    /// Whether the next piece is a comma.
    pub(super) fn sees_comma(&self) -> bool {
        self.peek(0).is_some_and(|token| token.kind == TokenKind::Comma)
    }

    /// Whether the next piece can be a name.
    pub(super) fn sees_name(&self) -> bool {
        self.seen() == Seen::Word && !RESERVED.contains(&self.words_at(0))
    }
}
