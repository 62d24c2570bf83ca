//! Walks a row's pattern over a statement. Which way an `Either` takes is told by how each begins,
//! never by trying; so a fault is told of the way that was meant.

use super::cursor::{Cursor, Seen};
use super::mismatch;
use super::reader::{Reader, Told};
use super::reading::{Item, Value};
use crate::syntax::TokenKind;
use crate::vocabulary::{Dimension, Kind, Part};

impl Reader<'_, '_> {
    /// Reads all parts, then expects the end.
    pub(super) fn statement(&mut self) -> Result<(), Told> {
        self.parts(self.row.takes)?;
        if self.cursor.peek(0).is_none() {
            return Ok(());
        }
        Err(self.tell(mismatch::left_over(self)))
    }

    fn parts(&mut self, parts: &'static [Part]) -> Result<(), Told> {
        parts.iter().try_for_each(|part| self.part(part))
    }

    fn part(&mut self, part: &'static Part) -> Result<(), Told> {
        match part {
            Part::Word(word) => match self.cursor.take_word(word) {
                Some(span) => {
                    self.items.push(Item { value: Value::Word(word), span });
                    Ok(())
                }
                None => Err(self.tell(mismatch::word_wanted(self, word))),
            },
            Part::Comma => match self.cursor.take(TokenKind::Comma) {
                Some(_) => Ok(()),
                None => Err(self.tell(mismatch::word_wanted(self, ","))),
            },
            Part::Value(kind) => self.value(*kind),
            Part::Maybe(inner) if self.begins(inner) => self.parts(inner),
            Part::Maybe(_) => Ok(()),
            Part::Either(ways) => match ways.iter().find(|way| self.begins(way)) {
                Some(way) => self.parts(way),
                None => Err(self.tell(mismatch::none_fits(self, ways))),
            },
            Part::List(inner) => {
                self.parts(inner)?;
                while self.goes_on(inner) {
                    self.cursor.at += 1;
                    self.parts(inner)?;
                }
                Ok(())
            }
        }
    }

    fn value(&mut self, kind: Kind) -> Result<(), Told> {
        if !self.fits(kind) {
            return Err(self.tell(mismatch::kind_wanted(self, &[kind])));
        }
        let start = self.cursor.here();
        let value = self.read_kind(kind)?;
        let span = start.to(self.cursor.behind());
        self.items.push(Item { value, span });
        Ok(())
    }

    fn read_kind(&mut self, kind: Kind) -> Result<Value, Told> {
        match kind {
            Kind::Count => self.count(),
            Kind::Number => self.plain_number(),
            Kind::Time => self.time(),
            Kind::Keeping => self.keeping(),
            Kind::Temperature => self.temperature(),
            Kind::Difference => self.difference(),
            Kind::Volume => self.volume(),
            Kind::Mass => self.mass(),
            Kind::Strength => self.strength(),
            Kind::Share => self.share(),
            Kind::Dilution => self.dilution(),
            Kind::Flow => self.flow(),
            Kind::Turning => self.turning(),
            Kind::Date => self.date(),
            Kind::Text => self.text(),
            Kind::NewName => self.new_name(),
            Kind::Name(_) | Kind::State => self.name(),
            Kind::OwnName => self.own_name(),
            Kind::Ingredient => self.ingredient(),
            Kind::Format => self.format(),
            Kind::Step => self.step(),
        }
    }

    /// Whether a list goes on: a comma, and behind it what the list is of.
    fn goes_on(&self, inner: &'static [Part]) -> bool {
        let comma = self.cursor.peek(0).is_some_and(|token| token.kind == TokenKind::Comma);
        let behind = Cursor { at: self.cursor.at + 1, ..self.cursor };
        comma && begins(behind, inner)
    }

    fn begins(&self, parts: &[Part]) -> bool {
        begins(self.cursor, parts)
    }

    fn fits(&self, kind: Kind) -> bool {
        fits(self.cursor, kind)
    }
}

/// Whether what stands at the cursor begins as these parts do.
fn begins(cursor: Cursor<'_>, parts: &[Part]) -> bool {
    let Some((first, rest)) = parts.split_first() else { return true };
    match first {
        Part::Word(word) => cursor.seen() == Seen::Word && cursor.words_at(0) == *word,
        Part::Comma => cursor.peek(0).is_some_and(|token| token.kind == TokenKind::Comma),
        // A bare number is told from another by the word behind it: `3 x clearing`, `5 inversions`.
        Part::Value(kind @ (Kind::Count | Kind::Number)) => {
            let next = cursor.words_at(cursor.number_pieces());
            fits(cursor, *kind) && !matches!(rest.first(), Some(Part::Word(word)) if *word != next)
        }
        Part::Value(kind) => fits(cursor, *kind),
        Part::Maybe(inner) => begins(cursor, inner) || begins(cursor, rest),
        Part::Either(ways) => ways.iter().any(|way| begins(cursor, way)),
        Part::List(inner) => begins(cursor, inner),
    }
}

/// Whether what stands at the cursor looks like a value of that kind. A unit that means several fits
/// a volume and a mass, and a time on the clock fits a dilution, so that the doubt itself is told.
fn fits(cursor: Cursor<'_>, kind: Kind) -> bool {
    let seen = cursor.seen();
    let measured = |dimension: Dimension| seen == Seen::Measured(dimension);
    match kind {
        Kind::Count | Kind::Number => seen == Seen::Bare,
        Kind::Time => measured(Dimension::Time) || seen == Seen::Clock,
        Kind::Keeping => measured(Dimension::Keeping),
        Kind::Temperature | Kind::Difference => measured(Dimension::Temperature) || seen == Seen::Ambiguous,
        Kind::Volume => measured(Dimension::Volume) || seen == Seen::Ambiguous,
        Kind::Mass => measured(Dimension::Mass) || seen == Seen::Ambiguous,
        Kind::Strength => measured(Dimension::MassPerLitre) || measured(Dimension::VolumePerLitre),
        Kind::Share => seen == Seen::Share,
        Kind::Dilution => matches!(seen, Seen::Dilution | Seen::Clock | Seen::Fraction),
        Kind::Flow => measured(Dimension::Flow),
        Kind::Turning => measured(Dimension::Turning),
        Kind::Date => seen == Seen::Date,
        Kind::Text => seen == Seen::Text,
        Kind::NewName => seen == Seen::Word,
        Kind::Name(_) | Kind::OwnName | Kind::Ingredient | Kind::State => cursor.sees_name(),
        Kind::Step => seen == Seen::Word,
        Kind::Format => matches!(seen, Seen::Bare | Seen::Format),
    }
}
