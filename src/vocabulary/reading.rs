//! What reading a statement gives: its row and what its slots hold, and the views of it by the
//! statement's type.

use std::marker::PhantomData;
use std::ops::Deref;

use super::kind::Declared;
use super::row::{Block, Often, Row};
use super::slot::{Capture, Slot, Statement};
use super::value::{Text, Value};
use crate::model::{Stated, StepKind};
use crate::source::Span;

/// A statement as it was read. Two are equal that say the same, wherever they stand.
#[derive(Debug, Clone)]
pub(crate) struct Reading {
    /// The row it follows.
    pub(crate) row: &'static Row,
    /// What its slots hold, in the order written; empty where it could not be read.
    pub(crate) items: Vec<Item>,
    /// From its first word to its last.
    pub(crate) span: Span,
    /// From its first word to the end of its block.
    pub(crate) extent: Span,
    /// What stands in its block.
    pub(crate) rows: Vec<Reading>,
    /// Whether it was read without a fault.
    pub(crate) sound: bool,
    /// Whether every line of its block was; a block that is not may lack what it seems to lack.
    pub(crate) block_sound: bool,
}

/// A value, its slot and its place.
#[derive(Debug, Clone)]
pub(crate) struct Item {
    /// The number of its slot in the row.
    pub(crate) slot: u8,
    /// The value.
    pub(crate) value: Value,
    /// Its place.
    pub(crate) span: Span,
}

impl PartialEq for Reading {
    fn eq(&self, other: &Reading) -> bool {
        std::ptr::eq(self.row, other.row)
            && (self.sound, self.block_sound) == (other.sound, other.block_sound)
            && self.items == other.items
            && self.rows == other.rows
    }
}

impl PartialEq for Item {
    fn eq(&self, other: &Item) -> bool {
        self.slot == other.slot && self.value == other.value
    }
}

/// A reading by the type of its statement, so that its slots can be asked for.
#[derive(Debug)]
pub(crate) struct Matched<'a, R> {
    reading: &'a Reading,
    row: PhantomData<fn() -> R>,
}

impl<R> Clone for Matched<'_, R> {
    fn clone(&self) -> Self {
        *self
    }
}

impl<R> Copy for Matched<'_, R> {}

impl<R> Deref for Matched<'_, R> {
    type Target = Reading;
    fn deref(&self) -> &Reading {
        self.reading
    }
}

impl<'a, R: Statement> Matched<'a, R> {
    /// What a slot holds, each value with its place.
    pub(crate) fn all<T: Capture>(self, slot: Slot<R, T>) -> impl Iterator<Item = (T::Of<'a>, Span)> {
        let own = self.reading.items.iter().filter(move |item| item.slot == slot.at());
        own.filter_map(|item| Some((T::of(&item.value)?, item.span)))
    }

    /// What a slot holds, with its place.
    pub(crate) fn said<T: Capture>(self, slot: Slot<R, T>) -> Option<(T::Of<'a>, Span)> {
        self.all(slot).next()
    }

    /// What a slot holds.
    pub(crate) fn get<T: Capture>(self, slot: Slot<R, T>) -> Option<T::Of<'a>> {
        self.said(slot).map(|(value, _)| value)
    }

    /// Whether a slot holds anything.
    pub(crate) fn has<T: Capture>(self, slot: Slot<R, T>) -> bool {
        self.reading.items.iter().any(|item| item.slot == slot.at())
    }

    /// The place of what a slot holds, or of the whole statement.
    pub(crate) fn place<T: Capture>(self, slot: Slot<R, T>) -> Span {
        let item = self.reading.items.iter().find(|item| item.slot == slot.at());
        item.map_or(self.reading.span, |item| item.span)
    }
}

impl Reading {
    /// The reading by the type of its statement, if it is one.
    pub(crate) fn view<R: Statement>(&self) -> Option<Matched<'_, R>> {
        R::has(self.row).then_some(Matched { reading: self, row: PhantomData })
    }

    /// Whether it is that statement.
    pub(crate) fn is<R: Statement>(&self) -> bool {
        R::has(self.row)
    }

    /// What it declares, if it is a declaration.
    pub(crate) fn declares(&self) -> Option<Declared> {
        self.row.opens.and_then(Block::declares)
    }

    /// The kind of step that it heads, if it is a step.
    pub(crate) fn step(&self) -> Option<StepKind> {
        match self.row.opens {
            Some(Block::Step(kind)) => Some(kind),
            _ => None,
        }
    }

    /// A declaration's name and its place.
    pub(crate) fn name(&self) -> Option<(&str, Span)> {
        self.declares()?;
        self.items.iter().find_map(|item| match &item.value {
            Value::Name(name) => Some((name.as_str(), item.span)),
            _ => None,
        })
    }

    /// A declaration's title.
    pub(crate) fn title(&self) -> Option<&str> {
        self.declares()?;
        self.items.iter().find_map(|item| match &item.value {
            Value::Text(title) => Some(title.as_str()),
            _ => None,
        })
    }

    /// Whether it and all that stands in it was read without a fault.
    pub(crate) fn is_sound(&self) -> bool {
        self.sound && self.block_sound && self.rows.iter().all(Reading::is_sound)
    }

    /// Whether one block has room for only one of the two, and the later replaces what was inherited.
    pub(crate) fn is_one_with(&self, other: &Reading) -> bool {
        let form = |reading: &Reading| reading.items.first().map(|item| item.slot);
        std::ptr::eq(self.row, other.row)
            && match self.row.often {
                Often::Must | Often::Once => true,
                Often::OnceEach => form(self) == form(other),
                Often::Some | Often::Many => false,
            }
    }

    /// Calls `each` with every value of it, those of its clauses too.
    pub(crate) fn values<'a>(&'a self, each: &mut dyn FnMut(&'a Item)) {
        for item in &self.items {
            match &item.value {
                Value::Clause(clause) => clause.values(each),
                _ => each(item),
            }
        }
    }
}

/// The statements of a block.
pub(crate) trait Lines<'a>: Sized {
    /// All of them, in order.
    fn lines(self) -> impl Iterator<Item = &'a Reading>;

    /// Those of a type.
    fn each<R: Statement>(self) -> impl Iterator<Item = Matched<'a, R>> {
        self.lines().filter_map(Reading::view)
    }

    /// The first of a type.
    fn one<R: Statement>(self) -> Option<Matched<'a, R>> {
        self.each().next()
    }

    /// What a slot of the statement holds, as the statement states it.
    fn stated<R: Statement, T: Capture>(self, slot: Slot<R, T>) -> Option<Stated<T::Of<'a>>> {
        let line = self.one::<R>()?;
        Some(Stated::new(line.get(slot)?, line.span))
    }

    /// The texts of a kind of remark.
    fn texts<R: Statement>(self, slot: Slot<R, Text>) -> Vec<String> {
        self.each::<R>().filter_map(|line| line.get(slot).map(str::to_owned)).collect()
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
