//! The rolls that wait to be developed, in the order in which they were shot.

use std::collections::BTreeMap;
use std::sync::Arc;

use super::Date;
use super::film::Film;
use super::format::Format;
use crate::source::{FileId, Span};

/// Rolls that wait: `backlog autumn { … }`.
#[derive(Debug, Clone)]
pub struct Backlog {
    /// Its name as declared, without a prefix.
    pub name: String,
    /// Its title, or its name where it has none.
    pub title: String,
    /// Its declaration's header.
    pub span: Span,
    /// The recipes that are meant for it where several would do, each by its file and name.
    pub recipes: Vec<(FileId, String)>,
    /// The rolls, in the order they were shot.
    pub rolls: Vec<Exposed>,
    /// Where the roll of each label stands among them.
    pub places: BTreeMap<String, usize>,
    /// Remarks.
    pub notes: Vec<String>,
}

impl Backlog {
    /// The roll of that label.
    #[must_use]
    pub fn roll(&self, label: &str) -> Option<&Exposed> {
        self.places.get(label).and_then(|at| self.rolls.get(*at))
    }
}

/// An exposed roll.
#[derive(Debug, Clone)]
pub struct Exposed {
    /// What is written on it; no other roll of the backlog bears it.
    pub label: String,
    /// Its format.
    pub format: Format,
    /// Its film.
    pub film: Arc<Film>,
    /// The index it was exposed at; the film's own speed where it says nothing.
    pub index: Option<u32>,
    /// The day it was shot.
    pub shot: Option<Date>,
    /// Where it says so.
    pub span: Span,
}

impl Exposed {
    /// The index it was exposed at, or the film's nominal speed.
    #[must_use]
    pub fn exposed_at(&self) -> Option<u32> {
        self.index.or_else(|| self.film.speed.map(|speed| speed.value))
    }
}
