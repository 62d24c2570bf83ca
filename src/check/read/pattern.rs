//! Compares the pieces of a statement with its row: pieces that fit become the values of the slots.
//! Each `Either` is decided by its first piece, without backtracking, so an error names what was meant.

use super::cursor::{Cursor, Seen};
use super::mismatch::{self, dimensions, has_units};
use crate::source::{Diagnostic, FileId, Span};
use crate::syntax::{Token, TokenKind};
use crate::vocabulary::{Form, Item, Kind, Part, Reading, Row, Value};

/// A statement that is being read.
pub(super) struct Reader<'a, 'f> {
    pub(super) cursor: Cursor<'a>,
    pub(super) row: &'static Row,
    pub(super) items: Vec<Item>,
    pub(super) faults: &'f mut Vec<Diagnostic>,
    /// What could follow the last piece; collected only on request.
    pub(super) following: Option<Vec<Want>>,
}

/// The statement has an error, which is reported; the rest of it is not read.
#[derive(Debug, Clone, Copy)]
pub(super) struct Failed;

/// What may come next in a statement.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Want {
    /// This word, or a comma.
    Word(&'static str),
    /// A value of this kind.
    Value(Kind),
    /// The unit of a value of this kind, after its number.
    Unit(Kind),
}

/// What could follow these pieces of an unfinished statement, each once.
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
    pub(super) fn report(&mut self, fault: Diagnostic) -> Failed {
        self.faults.push(fault);
        Failed
    }

    pub(super) fn fail<T>(&mut self, fault: Diagnostic) -> Result<T, Failed> {
        Err(self.report(fault))
    }

    /// Reads all parts, then expects the end.
    pub(super) fn statement(&mut self) -> Result<(), Failed> {
        self.parts(self.row.takes)?;
        if self.cursor.peek(0).is_none() {
            return Ok(());
        }
        self.fail(mismatch::left_over(self))
    }

    fn parts(&mut self, parts: &'static [Part]) -> Result<(), Failed> {
        parts.iter().try_for_each(|part| self.part(part))
    }

    fn part(&mut self, part: &'static Part) -> Result<(), Failed> {
        match part {
            Part::Word(word) => self.word(word).map(|_| ()),
            Part::Comma => {
                self.cursor.take(TokenKind::Comma).map_or_else(|| self.unexpected(part), |_| Ok(()))
            }
            Part::Slot(at, form) => {
                let start = self.cursor.next();
                let value = self.form(part, form)?;
                self.items.push(Item { slot: *at, value, span: start.to(self.cursor.last()) });
                Ok(())
            }
            Part::Maybe(inner) if begins(self.cursor, inner) => self.parts(inner),
            Part::Maybe(inner) => {
                self.note(inner);
                Ok(())
            }
            Part::Either(ways) => match ways.iter().find(|way| begins(self.cursor, way)) {
                Some(way) => self.parts(way),
                None => self.unexpected(part),
            },
            Part::List(inner) => {
                self.parts(inner)?;
                while self.list_continues(inner) {
                    self.cursor.at += 1;
                    self.parts(inner)?;
                }
                Ok(())
            }
        }
    }

    fn word(&mut self, word: &'static str) -> Result<Span, Failed> {
        match self.cursor.take_word(word) {
            Some(span) => Ok(span),
            None => self.unexpected(&Part::Word(word)),
        }
    }

    fn form(&mut self, part: &'static Part, form: &'static Form) -> Result<Value, Failed> {
        match form {
            Form::Value(kind) if looks_like(self.cursor, *kind) => self.value(*kind),
            Form::Value(_) => self.unexpected(part),
            Form::Choice(choices) => {
                let mut choices = choices.iter().enumerate();
                let Some((at, choice)) = choices.find(|(_, choice)| self.cursor.sees(first_word(choice)))
                else {
                    return self.unexpected(part);
                };
                choice.split(' ').try_for_each(|word| self.word(word).map(|_| ()))?;
                Ok(Value::Choice(at))
            }
            Form::Clause(rows) => match rows().iter().find(|row| begins_row(self.cursor, row)) {
                Some(row) => self.clause(row),
                None => self.unexpected(part),
            },
        }
    }

    /// A statement inside the statement, which is part of its errors.
    fn clause(&mut self, row: &'static Row) -> Result<Value, Failed> {
        let (start, outer) = (self.cursor.next(), std::mem::take(&mut self.items));
        let word = if row.word.is_empty() { Ok(start) } else { self.word(row.word) };
        let read = word.and_then(|_| self.parts(row.takes));
        let items = std::mem::replace(&mut self.items, outer);
        let span = start.to(self.cursor.last());
        let rows = Vec::new();
        let reading = Reading { row, items, span, extent: span, rows, sound: true, block_sound: true };
        read.map(|()| Value::Clause(Box::new(reading)))
    }

    /// Whether a comma and another element of a list follow.
    fn list_continues(&mut self, inner: &'static [Part]) -> bool {
        if !self.cursor.sees_comma() {
            return false;
        }
        let after = Cursor { at: self.cursor.at + 1, ..self.cursor };
        let continues = begins(after, inner);
        if !continues {
            let here = std::mem::replace(&mut self.cursor, after);
            self.note(inner);
            self.cursor = here;
        }
        continues
    }

    /// Reports that the next piece does not fit this part.
    fn unexpected<T>(&mut self, part: &Part) -> Result<T, Failed> {
        let parts = std::slice::from_ref(part);
        self.note(parts);
        let mut wants = Vec::new();
        beginnings(parts, &mut wants);
        let fault = mismatch::expected(self, &wants);
        self.fail(fault)
    }

    /// Keeps the unit that could follow a number at the end.
    pub(super) fn note_unit(&mut self, kind: Kind) {
        let is_last = self.cursor.peek(self.cursor.number_pieces()).is_none();
        self.following.as_mut().filter(|_| is_last).into_iter().for_each(|all| all.push(Want::Unit(kind)));
    }

    /// Keeps what could follow at the end.
    fn note(&mut self, parts: &[Part]) {
        let Some(following) = &mut self.following else { return };
        if self.cursor.peek(0).is_none() {
            beginnings(parts, following);
        } else if self.cursor.peek(self.cursor.number_pieces()).is_none() && self.cursor.sees_number() {
            after_number(parts, following);
        }
    }
}

fn first_word(choice: &'static str) -> &'static str {
    choice.split(' ').next().unwrap_or(choice)
}

/// Whether the next pieces begin as these parts do.
fn begins(cursor: Cursor<'_>, parts: &[Part]) -> bool {
    let Some((first, rest)) = parts.split_first() else { return true };
    match first {
        Part::Word(word) => cursor.sees(word),
        Part::Comma => cursor.sees_comma(),
        // The word after it distinguishes one bare number from another: `3 x clearing`, `5 inversions`.
        Part::Slot(_, Form::Value(kind @ (Kind::Count | Kind::Index | Kind::Number))) => {
            let next = cursor.words_at(cursor.number_pieces());
            looks_like(cursor, *kind) && !matches!(rest.first(), Some(Part::Word(word)) if *word != next)
        }
        Part::Slot(_, Form::Value(kind)) => looks_like(cursor, *kind),
        Part::Slot(_, Form::Choice(choices)) => choices.iter().any(|choice| cursor.sees(first_word(choice))),
        Part::Slot(_, Form::Clause(rows)) => rows().iter().any(|row| begins_row(cursor, row)),
        Part::Maybe(inner) => begins(cursor, inner) || begins(cursor, rest),
        Part::Either(ways) => ways.iter().any(|way| begins(cursor, way)),
        Part::List(inner) => begins(cursor, inner),
    }
}

fn begins_row(cursor: Cursor<'_>, row: &Row) -> bool {
    if row.word.is_empty() { begins(cursor, row.takes) } else { cursor.sees(row.word) }
}

/// The kinds of values and the words with which these parts can begin.
pub(super) fn beginnings(parts: &[Part], wants: &mut Vec<Want>) {
    let Some((first, rest)) = parts.split_first() else { return };
    match first {
        Part::Word(word) => wants.push(Want::Word(word)),
        Part::Comma => wants.push(Want::Word(",")),
        Part::Slot(_, Form::Value(kind)) => wants.push(Want::Value(*kind)),
        Part::Slot(_, Form::Choice(choices)) => {
            wants.extend(choices.iter().map(|choice| Want::Word(first_word(choice))));
        }
        Part::Slot(_, Form::Clause(rows)) => rows().iter().for_each(|row| {
            if row.word.is_empty() {
                beginnings(row.takes, wants);
            } else {
                wants.push(Want::Word(row.word));
            }
        }),
        Part::Maybe(inner) => {
            beginnings(inner, wants);
            beginnings(rest, wants);
        }
        Part::Either(ways) => ways.iter().for_each(|way| beginnings(way, wants)),
        Part::List(inner) => beginnings(inner, wants),
    }
}

/// What could follow a number with which these parts begin: a unit, or the word after a count.
fn after_number(parts: &[Part], wants: &mut Vec<Want>) {
    let Some((first, rest)) = parts.split_first() else { return };
    match first {
        Part::Slot(_, Form::Value(Kind::Count | Kind::Index | Kind::Number)) => beginnings(rest, wants),
        Part::Slot(_, Form::Value(kind)) => wants.extend(has_units(*kind).then_some(Want::Unit(*kind))),
        Part::Slot(_, Form::Clause(rows)) => {
            rows().iter().filter(|row| row.word.is_empty()).for_each(|row| after_number(row.takes, wants));
        }
        Part::Maybe(inner) => {
            after_number(inner, wants);
            after_number(rest, wants);
        }
        Part::Either(ways) => ways.iter().for_each(|way| after_number(way, wants)),
        Part::List(inner) => after_number(inner, wants),
        Part::Word(_) | Part::Comma | Part::Slot(_, Form::Choice(_)) => {}
    }
}

/// Whether the next piece looks like a value of that kind. An ambiguous unit fits a volume and a mass, and a
/// clock time fits a dilution, so that the ambiguity itself is reported.
fn looks_like(cursor: Cursor<'_>, kind: Kind) -> bool {
    let seen = cursor.seen();
    let measured = matches!(seen, Seen::Measured(dimension) if dimensions(kind).contains(&dimension));
    match kind {
        Kind::Count | Kind::Index | Kind::Number => seen == Seen::Bare,
        Kind::Time | Kind::Moment | Kind::ChartTime => measured || seen == Seen::Clock,
        Kind::Temperature | Kind::Tap | Kind::Difference | Kind::Volume | Kind::Mass => {
            measured || seen == Seen::Ambiguous
        }
        Kind::Keeping | Kind::Strength | Kind::Flow | Kind::Turning => measured,
        Kind::Share => seen == Seen::Share,
        Kind::Dilution => matches!(seen, Seen::Dilution | Seen::Clock | Seen::Fraction),
        Kind::Date => seen == Seen::Date,
        Kind::Text => seen == Seen::Text,
        Kind::NewName | Kind::Step => seen == Seen::Word,
        Kind::Name(_) | Kind::OwnName | Kind::Ingredient | Kind::State => cursor.sees_name(),
        Kind::Format => matches!(seen, Seen::Bare | Seen::Format),
    }
}
