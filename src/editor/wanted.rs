//! What a statement wants next: its pattern walked over the pieces that stand there, every way at once,
//! since what is being written may still go any of them.

use std::collections::BTreeSet;

use crate::syntax::{Token, TokenKind};
use crate::vocabulary::{Dimension, Kind, Part, RESERVED, unit};

use super::standing::Shape;

/// What may come next.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Want {
    /// This very word.
    Word(&'static str),
    /// A value of this kind.
    Value(Kind),
    /// The unit of a value of this kind, whose number stands there.
    Unit(Kind),
}

/// What a pattern wants behind these pieces, each once, in the order of the pattern.
pub(super) fn wanted(parts: &'static [Part], pieces: &[Token], shape: &Shape<'_>) -> Vec<Want> {
    let mut walk = Walk { pieces, shape, wants: Vec::new() };
    walk.parts(parts, 0);
    walk.wants
}

struct Walk<'a> {
    pieces: &'a [Token],
    shape: &'a Shape<'a>,
    wants: Vec<Want>,
}

impl Walk<'_> {
    fn parts(&mut self, parts: &'static [Part], from: usize) -> BTreeSet<usize> {
        parts.iter().fold(BTreeSet::from([from]), |ends, part| {
            ends.into_iter().flat_map(|at| self.part(part, at)).collect()
        })
    }

    /// Where a part may end that begins there.
    fn part(&mut self, part: &'static Part, at: usize) -> BTreeSet<usize> {
        match part {
            Part::Word(word) => match self.pieces.get(at) {
                None => self.want(Want::Word(word)),
                Some(piece) if self.shape.words(piece) == *word => BTreeSet::from([at + 1]),
                Some(_) => BTreeSet::new(),
            },
            Part::Comma => match self.kind(at) {
                Some(TokenKind::Comma) => BTreeSet::from([at + 1]),
                Some(_) | None => BTreeSet::new(),
            },
            Part::Value(kind) if at == self.pieces.len() => self.want(Want::Value(*kind)),
            Part::Value(kind) => self.value(*kind, at),
            Part::Maybe(inner) => {
                let mut ends = self.parts(inner, at);
                ends.insert(at);
                ends
            }
            Part::Either(ways) => ways.iter().flat_map(|way| self.parts(way, at)).collect(),
            Part::List(inner) => self.list(inner, at),
        }
    }

    fn list(&mut self, inner: &'static [Part], at: usize) -> BTreeSet<usize> {
        let mut ends = self.parts(inner, at);
        let mut fresh = ends.clone();
        while !fresh.is_empty() {
            let goes_on: Vec<usize> =
                fresh.into_iter().filter(|end| self.kind(*end) == Some(TokenKind::Comma)).collect();
            let next: BTreeSet<usize> =
                goes_on.into_iter().flat_map(|end| self.parts(inner, end + 1)).collect();
            fresh = next.difference(&ends).copied().collect();
            ends.extend(&fresh);
        }
        ends
    }

    fn want(&mut self, want: Want) -> BTreeSet<usize> {
        if !self.wants.contains(&want) {
            self.wants.push(want);
        }
        BTreeSet::new()
    }

    fn kind(&self, at: usize) -> Option<TokenKind> {
        self.pieces.get(at).map(|piece| piece.kind)
    }

    /// Where a value of that kind ends; a number without its unit wants it.
    fn value(&mut self, kind: Kind, at: usize) -> BTreeSet<usize> {
        let Some(form) = self.kind(at) else { return BTreeSet::new() };
        let one = |fits: bool| if fits { BTreeSet::from([at + 1]) } else { BTreeSet::new() };
        match kind {
            Kind::Count | Kind::Number => one(form == TokenKind::Number),
            Kind::Time if form == TokenKind::Clock => one(true),
            Kind::Dilution => one(form == TokenKind::Parts || self.is_word(at, "stock")),
            Kind::Date => one(form == TokenKind::Date),
            Kind::Text => one(form == TokenKind::Text),
            Kind::Format => one(matches!(form, TokenKind::Number | TokenKind::Format)),
            Kind::NewName | Kind::Step => one(form == TokenKind::Word),
            Kind::OwnName | Kind::Name(_) | Kind::Ingredient | Kind::State => {
                let reserved = RESERVED.iter().any(|word| self.is_word(at, word));
                one(form == TokenKind::Word && !reserved)
            }
            Kind::Share
            | Kind::Time
            | Kind::Keeping
            | Kind::Temperature
            | Kind::Difference
            | Kind::Volume
            | Kind::Mass
            | Kind::Strength
            | Kind::Flow
            | Kind::Turning => self.measured(kind, at),
        }
    }

    fn is_word(&self, at: usize, word: &str) -> bool {
        self.pieces.get(at).is_some_and(|piece| self.shape.words(piece) == word)
    }

    /// A number with its unit; a time may have several.
    fn measured(&mut self, kind: Kind, at: usize) -> BTreeSet<usize> {
        let mut ends = BTreeSet::new();
        let mut now = at;
        while matches!(self.kind(now), Some(TokenKind::Number | TokenKind::Fraction)) {
            now += 1 + usize::from(self.kind(now + 1) == Some(TokenKind::Fraction));
            if now == self.pieces.len() {
                self.want(Want::Unit(kind));
            }
            let is_unit = self.pieces.get(now).is_some_and(|piece| match piece.kind {
                TokenKind::Percent => kind == Kind::Share,
                TokenKind::Word => {
                    unit(self.shape.words(piece)).is_some_and(|unit| measures(kind, unit.dimension))
                }
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
                | TokenKind::Stray => false,
            });
            if !is_unit {
                break;
            }
            now += 1;
            ends.insert(now);
            if kind != Kind::Time {
                break;
            }
        }
        ends
    }
}

/// Whether a unit of that dimension is one of that kind of value.
pub(super) fn measures(kind: Kind, dimension: Dimension) -> bool {
    match dimension {
        Dimension::Time => kind == Kind::Time,
        Dimension::Keeping => kind == Kind::Keeping,
        Dimension::Temperature => matches!(kind, Kind::Temperature | Kind::Difference),
        Dimension::Volume => kind == Kind::Volume,
        Dimension::Mass => kind == Kind::Mass,
        Dimension::MassPerLitre | Dimension::VolumePerLitre => kind == Kind::Strength,
        Dimension::Flow => kind == Kind::Flow,
        Dimension::Turning => kind == Kind::Turning,
    }
}
