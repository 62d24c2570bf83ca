//! Statements that were read from a file: their rows of the vocabulary table, the values of their slots, and typed
//! access to these values.

use std::marker::PhantomData;
use std::ops::Deref;

use super::kind::Declared;
use super::row::{Block, Often, Row};
use super::say;
use super::slot::{Capture, Slot, Statement};
use super::value::{NewName, Text, Value};
use crate::model::{Stated, StepKind};
use crate::source::Span;

/// A statement that was read from a file. A comparison for equality ignores spans.
#[derive(Debug, Clone)]
pub(crate) struct Reading {
    pub(crate) row: &'static Row,
    /// The values of the statement's slots, in the order of the text.
    pub(crate) items: Vec<Item>,
    /// The span from the first token of the statement to its last.
    pub(crate) span: Span,
    /// The span from the first token of the statement to the end of its block.
    pub(crate) extent: Span,
    pub(crate) rows: Vec<Reading>,
    /// Whether the line of the statement has no error.
    pub(crate) sound: bool,
    /// Whether no line directly in the statement's block has an error. A statement that seems to be missing may be on a
    /// line with an error.
    pub(crate) block_sound: bool,
    /// Whether each line directly in the statement's block begins with the first word of a statement.
    pub(crate) block_known: bool,
}

#[derive(Debug, Clone)]
pub(crate) struct Item {
    pub(crate) slot: u8,
    pub(crate) value: Value,
    pub(crate) span: Span,
}

impl PartialEq for Reading {
    fn eq(&self, other: &Reading) -> bool {
        std::ptr::eq(self.row, other.row)
            && (self.sound, self.block_sound) == (other.sound, other.block_sound)
            && self.block_known == other.block_known
            && self.items == other.items
            && self.rows == other.rows
    }
}

impl PartialEq for Item {
    fn eq(&self, other: &Item) -> bool {
        self.slot == other.slot && self.value == other.value
    }
}

/// A statement that was read and that has the type `R`. The macro `rows!` adds a method for each slot of `R`, which
/// returns the slot's value.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Matched<'a, R> {
    reading: &'a Reading,
    row: PhantomData<fn() -> R>,
}

impl<R> Deref for Matched<'_, R> {
    type Target = Reading;
    fn deref(&self) -> &Reading {
        self.reading
    }
}

impl<'a, R: Statement> Matched<'a, R> {
    pub(crate) fn all<T: Capture>(self, slot: Slot<R, T>) -> impl Iterator<Item = (T::Of<'a>, Span)> {
        let own = self.reading.items.iter().filter(move |item| item.slot == slot.at);
        own.filter_map(|item| Some((T::of(&item.value)?, item.span)))
    }

    pub(crate) fn said<T: Capture>(self, slot: Slot<R, T>) -> Option<(T::Of<'a>, Span)> {
        self.all(slot).next()
    }

    pub(crate) fn get<T: Capture>(self, slot: Slot<R, T>) -> Option<T::Of<'a>> {
        self.said(slot).map(|(value, _)| value)
    }

    pub(crate) fn has<T: Capture>(self, slot: Slot<R, T>) -> bool {
        self.reading.items.iter().any(|item| item.slot == slot.at)
    }

    /// The span of a slot's value; if the slot has no value, the span of the whole statement.
    pub(crate) fn place<T: Capture>(self, slot: Slot<R, T>) -> Span {
        let item = self.reading.items.iter().find(|item| item.slot == slot.at);
        item.map_or(self.reading.span, |item| item.span)
    }
}

impl Reading {
    /// This statement as a statement of the type `R`; `None` if it is of another type.
    pub(crate) fn view<R: Statement>(&self) -> Option<Matched<'_, R>> {
        R::has(self.row).then_some(Matched { reading: self, row: PhantomData })
    }

    pub(crate) fn is<R: Statement>(&self) -> bool {
        R::has(self.row)
    }

    pub(crate) fn declares(&self) -> Option<Declared> {
        self.row.opens.and_then(Block::declares)
    }

    pub(crate) fn step(&self) -> Option<StepKind> {
        match self.row.opens {
            Some(Block::Step(kind)) => Some(kind),
            _ => None,
        }
    }

    pub(crate) fn name(&self) -> Option<(&str, Span)> {
        self.declares()?;
        self.items.iter().find_map(|item| Some((NewName::of(&item.value)?, item.span)))
    }

    pub(crate) fn title(&self) -> Option<&str> {
        self.declares()?;
        self.items.iter().find_map(|item| Text::of(&item.value))
    }

    /// Whether this statement and all statements in its block have no error.
    pub(crate) fn is_sound(&self) -> bool {
        self.sound && self.block_sound && self.rows.iter().all(Reading::is_sound)
    }

    /// Whether a block may have only one of these two statements. If a recipe inherits one and states the other, the
    /// latter replaces the inherited one.
    pub(crate) fn is_one_with(&self, other: &Reading) -> bool {
        let form = |reading: &Reading| reading.items.first().map(|item| item.slot);
        std::ptr::eq(self.row, other.row)
            && match self.row.often {
                Often::Must | Often::Once => true,
                Often::OnceEach => form(self) == form(other),
                Often::Some | Often::Many => false,
            }
    }

    /// Calls `each` with every value of the statement, and with the values of its clauses. Its block is left out.
    pub(crate) fn values<'a>(&'a self, each: &mut dyn FnMut(&'a Item)) {
        for item in &self.items {
            match &item.value {
                Value::Clause(clause) => clause.values(each),
                _ => each(item),
            }
        }
    }

    /// Calls `each` with every value of the statement and of all statements in its block.
    pub(crate) fn each_value<'a>(&'a self, each: &mut dyn FnMut(&'a Item)) {
        self.values(each);
        self.rows.iter().for_each(|row| row.each_value(each));
    }
}

/// Access to the statements of a block by their types.
pub(crate) trait Lines<'a>: Sized {
    fn lines(self) -> impl Iterator<Item = &'a Reading>;

    fn each<R: Statement>(self) -> impl Iterator<Item = Matched<'a, R>> {
        self.lines().filter_map(Reading::view)
    }

    fn one<R: Statement>(self) -> Option<Matched<'a, R>> {
        self.each().next()
    }

    fn one_sound<R: Statement>(self) -> Option<Matched<'a, R>> {
        self.one().filter(|line| line.sound)
    }

    /// The value of a slot in the block's first statement of the type `R`, with the span of that statement.
    fn stated<R: Statement, T: Capture>(self, slot: Slot<R, T>) -> Option<Stated<T::Of<'a>>> {
        let line = self.one::<R>()?;
        Some(Stated::new(line.get(slot)?, line.span))
    }

    fn notes(self) -> Vec<String> {
        self.each::<say::Note>().filter_map(|line| line.text().map(str::to_owned)).collect()
    }

    fn cautions(self) -> Vec<String> {
        self.each::<say::Caution>().filter_map(|line| line.text().map(str::to_owned)).collect()
    }
}

impl<'a> Lines<'a> for &'a Reading {
    fn lines(self) -> impl Iterator<Item = &'a Reading> {
        self.rows.iter()
    }
}

impl<'a> Lines<'a> for &[&'a Reading] {
    fn lines(self) -> impl Iterator<Item = &'a Reading> {
        self.iter().copied()
    }
}
