//! A position among the tokens of a statement, with a guess at the kind of value that comes next.

use crate::model::StepKind;
use crate::source::{FileId, Span};
use crate::syntax::{Token, TokenKind};
use crate::vocabulary::{Block, Kind, RESERVED, RESERVED_INSIDE, ambiguous, blocks_of, respelled, unit};

#[derive(Debug, Clone, Copy)]
pub(super) struct Cursor<'a> {
    pub(super) text: &'a str,
    pub(super) tokens: &'a [Token],
    pub(super) at: usize,
    pub(super) file: FileId,
}

/// What the next token looks like. For a number, its unit counts too.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Seen {
    End,
    /// A number without a unit.
    Bare,
    Fraction,
    /// A number with a unit that has several meanings.
    Ambiguous,
    /// Numbers with colons, which may be a time or an ambiguous dilution.
    Clock,
    Word,
    Sign,
    /// A value of this kind, or of another kind with the same units.
    Value(Kind),
}

impl<'a> Cursor<'a> {
    pub(super) fn peek(&self, ahead: usize) -> Option<Token> {
        self.tokens.get(self.at + ahead).copied()
    }

    pub(super) fn text_of(&self, span: Span) -> &'a str {
        span.slice(self.text)
    }

    /// The text of the token that is `ahead` tokens after the next one. Empty if there is no such token.
    pub(super) fn words_at(&self, ahead: usize) -> &'a str {
        self.peek(ahead).map_or("", |token| self.text_of(token.span))
    }

    /// The span of the next token; at the end of the statement, the empty span after the last token.
    pub(super) fn next(&self) -> Span {
        let end = || self.tokens.last().map(|last| last.span.after());
        let nowhere = Span { file: self.file, start: 0, end: 0 };
        self.peek(0).map(|token| token.span).or_else(end).unwrap_or(nowhere)
    }

    pub(super) fn last(&self) -> Span {
        let last = self.at.checked_sub(1).and_then(|at| self.tokens.get(at));
        last.map_or_else(|| self.next(), |token| token.span)
    }

    pub(super) fn take_word(&mut self, word: &str) -> bool {
        let is_there = self.sees(word);
        self.at += usize::from(is_there);
        is_there
    }

    pub(super) fn take(&mut self, kind: TokenKind) -> Option<Token> {
        let token = self.peek(0).filter(|token| token.kind == kind)?;
        self.at += 1;
        Some(token)
    }

    /// How many tokens the next number has: one for `10` or `1/4`, two for `10 1/4`.
    pub(super) fn number_pieces(&self) -> usize {
        let fraction = |ahead: usize| self.peek(ahead).is_some_and(|token| token.kind == TokenKind::Fraction);
        if fraction(0) { 1 } else { 1 + usize::from(fraction(1)) }
    }

    pub(super) fn seen(&self) -> Seen {
        let Some(token) = self.peek(0) else { return Seen::End };
        match token.kind {
            TokenKind::Number => self.seen_number(Seen::Bare),
            TokenKind::Fraction => self.seen_number(Seen::Fraction),
            TokenKind::Clock => Seen::Clock,
            TokenKind::Parts => Seen::Value(Kind::Dilution),
            TokenKind::Date => Seen::Value(Kind::Date),
            TokenKind::Format => Seen::Value(Kind::Format),
            TokenKind::Text | TokenKind::OpenText => Seen::Value(Kind::Text),
            TokenKind::Word if self.sees("stock") => Seen::Value(Kind::Dilution),
            TokenKind::Word => Seen::Word,
            _ => Seen::Sign,
        }
    }

    fn seen_number(&self, alone: Seen) -> Seen {
        let Some(next) = self.peek(self.number_pieces()) else { return alone };
        let word = self.text_of(next.span);
        match next.kind {
            TokenKind::Percent => Seen::Value(Kind::Share),
            TokenKind::Word => match unit(word).or_else(|| respelled(word)) {
                Some(unit) => Seen::Value(unit.kind),
                None if ambiguous(word).is_some() => Seen::Ambiguous,
                None => alone,
            },
            TokenKind::Stray if word == "+" => Seen::Value(Kind::Dilution),
            TokenKind::Number if word.starts_with('+') => Seen::Value(Kind::Dilution),
            _ => alone,
        }
    }

    /// Whether the next token is a number, and its unit is spelled in a way that is an error in a recipe.
    pub(super) fn has_respelled_unit(&self) -> bool {
        let word = self.words_at(self.number_pieces());
        self.sees_number() && unit(word).is_none() && respelled(word).is_some()
    }

    pub(super) fn sees(&self, word: &str) -> bool {
        self.peek(0).is_some_and(|token| {
            matches!(token.kind, TokenKind::Word | TokenKind::Comma) && self.text_of(token.span) == word
        })
    }

    pub(super) fn sees_number(&self) -> bool {
        self.peek(0).is_some_and(|token| matches!(token.kind, TokenKind::Number | TokenKind::Fraction))
    }

    /// Whether a number without a unit is all that is left in the statement.
    pub(super) fn ends_in_number(&self) -> bool {
        self.sees_number() && self.peek(self.number_pieces()).is_none()
    }

    /// Whether the next token looks like a value of this kind. A number with an ambiguous unit, or with colons, looks
    /// like several kinds: it is then read, so that the ambiguity is reported.
    pub(super) fn looks_like(&self, kind: Kind) -> bool {
        let seen = self.seen();
        match kind {
            Kind::Count | Kind::Factor | Kind::Number | Kind::Ph | Kind::Density | Kind::Brightness => {
                seen == Seen::Bare
            }
            Kind::Index => matches!(seen, Seen::Bare | Seen::Fraction),
            Kind::Dilution => matches!(seen, Seen::Value(Kind::Dilution) | Seen::Clock | Seen::Fraction),
            Kind::NewName | Kind::Step => seen == Seen::Word,
            Kind::Statement => seen == Seen::Word && is_inherited(self.words_at(0)),
            Kind::OwnName => seen == Seen::Word && !RESERVED_INSIDE.contains(&self.words_at(0)),
            Kind::Name(_) | Kind::Ingredient | Kind::State | Kind::Hazard => {
                seen == Seen::Word && !RESERVED.contains(&self.words_at(0))
            }
            Kind::Format => matches!(seen, Seen::Bare | Seen::Value(Kind::Format)),
            _ => match (measured_as(kind), seen) {
                (Kind::Time, Seen::Clock) => true,
                (Kind::Temperature | Kind::Volume | Kind::Mass, Seen::Ambiguous) => true,
                (kind, seen) => seen == Seen::Value(kind),
            },
        }
    }
}

/// The kind that has the same units and stands for all kinds with these units, such as `Time` for `Moment`.
pub(super) fn measured_as(kind: Kind) -> Kind {
    match kind {
        Kind::Moment | Kind::ChartTime => Kind::Time,
        Kind::Tap | Kind::Difference => Kind::Temperature,
        _ => kind,
    }
}

/// Whether a recipe or a step may have a statement with this first word, so that a derived recipe can inherit it. The
/// words that begin a step do not count.
fn is_inherited(word: &str) -> bool {
    let can = |block: &Block| matches!(block, Block::Recipe | Block::Step(_));
    StepKind::parse(word).is_none() && blocks_of(word).iter().any(can)
}
