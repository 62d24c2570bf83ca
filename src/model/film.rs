//! A film, as far as its processing goes.

use std::sync::Arc;

use super::bath::Bath;
use super::dilution::Dilution;
use super::quantity::{Temperature, Time};
use super::solution::Solution;
use super::stated::Stated;
use super::words::words;
use crate::source::Span;

/// A film.
#[derive(Debug, Clone)]
pub struct Film {
    /// Its name as declared, without a prefix.
    pub name: String,
    /// Its title, or its name where it has none.
    pub title: String,
    /// Its declaration's header.
    pub span: Span,
    /// The whole declaration, header and block.
    pub extent: Span,
    /// The form of its crystals.
    pub grain: Option<Grain>,
    /// Its nominal speed, ISO.
    pub speed: Option<Stated<u32>>,
    /// How fast it clears in fixers.
    pub clears: Vec<Clearing>,
    /// Where its figures are from.
    pub sources: Vec<String>,
    /// Cautions of its own.
    pub cautions: Vec<String>,
    /// Remarks for the card.
    pub notes: Vec<String>,
}

impl Film {
    /// Its clearing times in an order of their own: by the fixer and its strength, whatever order they are
    /// written in.
    #[must_use]
    pub fn clears_in_order(&self) -> Vec<&Clearing> {
        let mut all: Vec<&Clearing> = self.clears.iter().collect();
        all.sort_by_key(|row| {
            let Dilution { parts, water } = &row.dilution;
            (&row.solution.name, parts, *water, row.at, row.time)
        });
        all
    }

    /// How fast it clears in that very bath.
    #[must_use]
    pub fn clearing_in(&self, bath: &Bath) -> Option<&Clearing> {
        let solution = bath.solution.as_ref()?;
        let is_of = |row: &&Clearing| Arc::ptr_eq(&row.solution, solution) && row.dilution == bath.dilution;
        self.clears.iter().find(is_of)
    }
}

words! {
    /// The form of the crystals: tabular ones hold on to more and fix more slowly.
    pub enum Grain {
        /// Grown in the classic way.
        Conventional = "conventional",
        /// Flat crystals.
        Tabular = "tabular",
    }
}

/// How long the film takes to clear in one fixer of one strength (R11).
#[derive(Debug, Clone)]
pub struct Clearing {
    /// The time.
    pub time: Time,
    /// The fixer.
    pub solution: Arc<Solution>,
    /// Its strength.
    pub dilution: Dilution,
    /// The bath's temperature when it was measured.
    pub at: Temperature,
    /// Where it says so.
    pub span: Span,
}
