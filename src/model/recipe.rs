//! A recipe and its film.

use std::ops::Deref;
use std::sync::Arc;

use super::quantity::{Temperature, Time};
use super::solution::{Dilution, Solution};
use super::step::{Bath, Step};
use super::words::words;
use crate::source::{FileId, Span};

/// A value with the span that states it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Stated<T> {
    /// The value.
    pub value: T,
    /// Its span.
    pub span: Span,
}

impl<T> Stated<T> {
    /// A value stated at this span.
    pub fn new(value: T, span: Span) -> Stated<T> {
        Stated { value, span }
    }
}

impl<T> Deref for Stated<T> {
    type Target = T;

    fn deref(&self) -> &T {
        &self.value
    }
}

/// A recipe with everything it inherits. Without a film it is a base, which cannot be compiled.
#[derive(Debug, Clone)]
pub struct Recipe {
    /// Its name.
    pub name: String,
    /// Its title, or its name if it has none.
    pub title: String,
    /// The file that declares it.
    pub file: FileId,
    /// Its header.
    pub span: Span,
    /// The whole declaration.
    pub extent: Span,
    /// The recipe it is derived from, with its file.
    pub parent: Option<(FileId, String)>,
    /// Its film.
    pub film: Option<Stated<Arc<Film>>>,
    /// Its exposure index.
    pub index: Option<Stated<u32>>,
    /// Its steps, at least one.
    pub steps: Vec<Step>,
    /// Notes for the card.
    pub notes: Vec<String>,
    /// Its cautions, which come first on the card.
    pub cautions: Vec<String>,
}

/// A film.
#[derive(Debug, Clone, Default)]
pub struct Film {
    /// Its name.
    pub name: String,
    /// Its title, or its name if it has none.
    pub title: String,
    /// Its header.
    pub span: Span,
    /// The whole declaration.
    pub extent: Span,
    /// Its grain.
    pub grain: Option<Grain>,
    /// Its nominal speed (ISO).
    pub speed: Option<Stated<u32>>,
    /// Its clearing times.
    pub clears: Vec<Clearing>,
    /// Its cautions.
    pub cautions: Vec<String>,
    /// Notes for the card.
    pub notes: Vec<String>,
}

impl Film {
    /// Its clearing times, sorted by fixer and dilution.
    pub fn clears_in_order(&self) -> Vec<&Clearing> {
        let mut all: Vec<&Clearing> = self.clears.iter().collect();
        all.sort_by_key(|row| {
            let Dilution { parts, water } = &row.dilution;
            (&row.solution.name, parts, *water, row.at, row.time)
        });
        all
    }

    /// Its clearing time in this bath.
    pub fn clearing_in(&self, bath: &Bath) -> Option<&Clearing> {
        self.clearing_at(bath.solution.as_ref()?, &bath.dilution)
    }

    /// Its clearing time in a solution at a dilution.
    pub fn clearing_at(&self, solution: &Arc<Solution>, dilution: &Dilution) -> Option<&Clearing> {
        self.clears.iter().find(|row| Arc::ptr_eq(&row.solution, solution) && row.dilution == *dilution)
    }
}

words! {
    /// The form of the crystals; tabular grain fixes more slowly.
    pub enum Grain {
        /// Grown in the classic way.
        Conventional = "conventional",
        /// Flat crystals.
        Tabular = "tabular",
    }
}

/// The clearing time of a film in a fixer (R11).
#[derive(Debug, Clone)]
pub struct Clearing {
    /// The time.
    pub time: Time,
    /// The fixer.
    pub solution: Arc<Solution>,
    /// Its dilution.
    pub dilution: Dilution,
    /// The temperature of the bath.
    pub at: Temperature,
    /// The span that states it.
    pub span: Span,
}
