//! The matcher: holds the pieces of a statement against its row. What fits becomes the values of the row's
//! slots. Which way an `Either` takes is told by how each begins, never by trying; so a fault is told of
//! the way that was meant. Where the pieces end, it can tell what could follow.

use super::cursor::{Cursor, Seen};
use super::mismatch;
use crate::source::{Diagnostic, FileId, Span};
use crate::syntax::{Token, TokenKind};
use crate::vocabulary::{Dimension, Form, Item, Kind, Part, Reading, Row, Value};

/// One statement being read: where the reader stands, what it has, and what it has told.
pub(super) struct Reader<'a, 'f> {
    pub(super) cursor: Cursor<'a>,
    pub(super) row: &'static Row,
    pub(super) items: Vec<Item>,
    pub(super) faults: &'f mut Vec<Diagnostic>,
    /// What could follow the last piece; gathered only for one who asks.
    pub(super) following: Option<Vec<Want>>,
}

/// The statement is at fault and the fault is told; there is no reading on.
#[derive(Debug, Clone, Copy)]
pub(super) struct Told;

/// What may come next in a statement.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Want {
    /// This very word, or a comma.
    Word(&'static str),
    /// A value of this kind.
    Value(Kind),
    /// The unit of a value of this kind, whose number stands there.
    Unit(Kind),
}

/// What could follow these pieces of a statement that is being written, each once.
pub(crate) fn following(row: &'static Row, text: &str, tokens: &[Token], file: FileId) -> Vec<Want> {
    let cursor = Cursor { text, tokens, at: 0, file };
    let (items, mut faults) = (Vec::new(), Vec::new());
    let mut reader = Reader { cursor, row, items, faults: &mut faults, following: Some(Vec::new()) };
    let _ = reader.statement();
    let mut known: Vec<Want> = Vec::new();
    for want in reader.following.unwrap_or_default() {
        if !known.contains(&want) {
            known.push(want);
        }
    }
    known
}

impl Reader<'_, '_> {
    /// Puts a fault on the list.
    pub(super) fn tell(&mut self, fault: Diagnostic) -> Told {
        self.faults.push(fault);
        Told
    }

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
            Part::Word(word) => self.word(word).map(|_| ()),
            Part::Comma => match self.cursor.take(TokenKind::Comma) {
                Some(_) => Ok(()),
                None => Err(self.amiss(std::slice::from_ref(part))),
            },
            Part::Slot(place, form) => {
                let start = self.cursor.here();
                let value = self.form(part, form)?;
                let span = start.to(self.cursor.behind());
                self.items.push(Item { slot: place.at, value, span });
                Ok(())
            }
            Part::Maybe(inner) if begins(self.cursor, inner) => self.parts(inner),
            Part::Maybe(inner) => {
                self.note(inner);
                Ok(())
            }
            Part::Either(ways) => match ways.iter().find(|way| begins(self.cursor, way)) {
                Some(way) => self.parts(way),
                None => Err(self.amiss(std::slice::from_ref(part))),
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

    fn word(&mut self, word: &'static str) -> Result<Span, Told> {
        let taken = self.cursor.take_word(word);
        taken.ok_or_else(|| self.amiss(&[Part::Word(word)]))
    }

    fn form(&mut self, part: &'static Part, form: &'static Form) -> Result<Value, Told> {
        match form {
            Form::Value(kind) if fits(self.cursor, *kind) => self.value(*kind),
            Form::Value(_) => Err(self.amiss(std::slice::from_ref(part))),
            Form::Choice(choices) => {
                let begun =
                    |choice: &&str| choice.split(' ').next().is_some_and(|word| self.cursor.sees(word));
                let found = choices.iter().enumerate().find(|(_, choice)| begun(choice));
                let Some((at, choice)) = found else { return Err(self.amiss(std::slice::from_ref(part))) };
                choice.split(' ').try_for_each(|word| self.word(word).map(|_| ()))?;
                Ok(Value::Choice(at))
            }
            Form::Clause(rows) => match rows().iter().find(|row| begins_row(self.cursor, row)) {
                Some(row) => self.clause(row),
                None => Err(self.amiss(std::slice::from_ref(part))),
            },
        }
    }

    /// A statement within the statement. Faults of it are told of the whole.
    fn clause(&mut self, row: &'static Row) -> Result<Value, Told> {
        let (start, outer) = (self.cursor.here(), std::mem::take(&mut self.items));
        let word = if row.word.is_empty() { Ok(start) } else { self.word(row.word) };
        let read = word.and_then(|_| self.parts(row.takes));
        let items = std::mem::replace(&mut self.items, outer);
        let span = start.to(self.cursor.behind());
        let rows = Vec::new();
        let reading = Reading { row, items, span, extent: span, rows, sound: true, block_sound: true };
        read.map(|()| Value::Clause(Box::new(reading)))
    }

    fn value(&mut self, kind: Kind) -> Result<Value, Told> {
        match kind {
            Kind::Count | Kind::Index => self.count(kind),
            Kind::Number => self.plain_number(),
            Kind::Time | Kind::Moment | Kind::ChartTime => self.time(kind),
            Kind::Keeping => self.keeping(),
            Kind::Temperature | Kind::Tap => self.temperature(kind),
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
            Kind::Name(declared) => Ok(Value::Mention(declared, self.name())),
            Kind::State => Ok(Value::Name(self.name())),
            Kind::OwnName => self.own_name(),
            Kind::Ingredient => self.ingredient(),
            Kind::Format => self.format(),
            Kind::Step => self.step(),
        }
    }

    /// Whether a list goes on: a comma, and behind it what the list is of.
    fn goes_on(&mut self, inner: &'static [Part]) -> bool {
        let comma = self.cursor.peek(0).is_some_and(|token| token.kind == TokenKind::Comma);
        let behind = Cursor { at: self.cursor.at + 1, ..self.cursor };
        if comma && begins(behind, inner) {
            return true;
        }
        if comma {
            let here = std::mem::replace(&mut self.cursor, behind);
            self.note(inner);
            self.cursor = here;
        }
        false
    }

    /// One of these parts is wanted, and something else stands there.
    fn amiss(&mut self, parts: &[Part]) -> Told {
        self.note(parts);
        let fault = mismatch::amiss(self, parts);
        self.tell(fault)
    }

    /// Keeps the unit that could follow a number at the end, for one who asks.
    pub(super) fn note_unit(&mut self, kind: Kind) {
        let is_last = self.cursor.peek(self.cursor.number_pieces()).is_none();
        self.following.as_mut().filter(|_| is_last).into_iter().for_each(|all| all.push(Want::Unit(kind)));
    }

    /// Keeps what could follow, for one who asks.
    pub(super) fn note(&mut self, parts: &[Part]) {
        let Some(following) = &mut self.following else { return };
        if self.cursor.peek(0).is_none() {
            beginnings(parts, following);
        } else if self.cursor.peek(self.cursor.number_pieces()).is_none() && self.cursor.sees_number() {
            behind_number(parts, following);
        }
    }
}

/// Whether what stands at the cursor begins as these parts do.
fn begins(cursor: Cursor<'_>, parts: &[Part]) -> bool {
    let Some((first, rest)) = parts.split_first() else { return true };
    match first {
        Part::Word(word) => cursor.sees(word),
        Part::Comma => cursor.peek(0).is_some_and(|token| token.kind == TokenKind::Comma),
        // A bare number is told from another by the word behind it: `3 x clearing`, `5 inversions`.
        Part::Slot(_, Form::Value(kind @ (Kind::Count | Kind::Index | Kind::Number))) => {
            let next = cursor.words_at(cursor.number_pieces());
            fits(cursor, *kind) && !matches!(rest.first(), Some(Part::Word(word)) if *word != next)
        }
        Part::Slot(_, Form::Value(kind)) => fits(cursor, *kind),
        Part::Slot(_, Form::Choice(choices)) => {
            choices.iter().any(|choice| choice.split(' ').next().is_some_and(|word| cursor.sees(word)))
        }
        Part::Slot(_, Form::Clause(rows)) => rows().iter().any(|row| begins_row(cursor, row)),
        Part::Maybe(inner) => begins(cursor, inner) || begins(cursor, rest),
        Part::Either(ways) => ways.iter().any(|way| begins(cursor, way)),
        Part::List(inner) => begins(cursor, inner),
    }
}

fn begins_row(cursor: Cursor<'_>, row: &Row) -> bool {
    if row.word.is_empty() { begins(cursor, row.takes) } else { cursor.sees(row.word) }
}

/// With what these parts can begin: kinds of values, and words.
pub(super) fn beginnings(parts: &[Part], wants: &mut Vec<Want>) {
    match parts.first() {
        Some(Part::Word(word)) => wants.push(Want::Word(word)),
        Some(Part::Comma) => wants.push(Want::Word(",")),
        Some(Part::Slot(_, Form::Value(kind))) => wants.push(Want::Value(*kind)),
        Some(Part::Slot(_, Form::Choice(choices))) => {
            wants.extend(choices.iter().filter_map(|choice| choice.split(' ').next()).map(Want::Word));
        }
        Some(Part::Slot(_, Form::Clause(rows))) => rows().iter().for_each(|row| {
            if row.word.is_empty() {
                beginnings(row.takes, wants);
            } else {
                wants.push(Want::Word(row.word));
            }
        }),
        Some(Part::Maybe(inner)) => {
            beginnings(inner, wants);
            beginnings(parts.get(1..).unwrap_or(&[]), wants);
        }
        Some(Part::Either(ways)) => ways.iter().for_each(|way| beginnings(way, wants)),
        Some(Part::List(inner)) => beginnings(inner, wants),
        None => {}
    }
}

/// What could follow a number with which these parts begin: a unit, or the word behind a count.
fn behind_number(parts: &[Part], wants: &mut Vec<Want>) {
    let rest = parts.get(1..).unwrap_or(&[]);
    match parts.first() {
        Some(Part::Slot(_, Form::Value(Kind::Count | Kind::Index | Kind::Number))) => beginnings(rest, wants),
        Some(Part::Slot(_, Form::Value(kind))) => {
            wants.extend(Some(Want::Unit(*kind)).filter(|_| mismatch::wears_unit(*kind)));
        }
        Some(Part::Slot(_, Form::Clause(rows))) => {
            rows().iter().filter(|row| row.word.is_empty()).for_each(|row| behind_number(row.takes, wants));
        }
        Some(Part::Maybe(inner)) => {
            behind_number(inner, wants);
            behind_number(rest, wants);
        }
        Some(Part::Either(ways)) => ways.iter().for_each(|way| behind_number(way, wants)),
        Some(Part::List(inner)) => behind_number(inner, wants),
        Some(Part::Word(_) | Part::Comma | Part::Slot(_, Form::Choice(_))) | None => {}
    }
}

/// Whether what stands at the cursor looks like a value of that kind. A unit that means several fits
/// a volume and a mass, and a time on the clock fits a dilution, so that the doubt itself is told.
fn fits(cursor: Cursor<'_>, kind: Kind) -> bool {
    let seen = cursor.seen();
    let measured = |dimension: Dimension| seen == Seen::Measured(dimension);
    match kind {
        Kind::Count | Kind::Index | Kind::Number => seen == Seen::Bare,
        Kind::Time | Kind::Moment | Kind::ChartTime => measured(Dimension::Time) || seen == Seen::Clock,
        Kind::Keeping => measured(Dimension::Keeping),
        Kind::Temperature | Kind::Tap | Kind::Difference => {
            measured(Dimension::Temperature) || seen == Seen::Ambiguous
        }
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
