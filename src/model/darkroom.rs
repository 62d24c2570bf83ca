//! The user's own darkroom: bottles, clearing tests, sessions and backlogs.

use std::collections::{BTreeMap, BTreeSet};
use std::sync::Arc;

use super::Date;
use super::quantity::{Temperature, Time, Volume};
use super::recipe::{Film, Stated};
use super::solution::{Dilution, Solution};
use super::tank::Format;
use crate::source::{FileId, Span};

/// The bottles, tests, sessions and backlogs of a run. The use of a bath is counted from the sessions.
#[derive(Debug, Clone, Default)]
pub struct Darkroom {
    /// The bottles that each file can name, with their names there.
    pub baths: Vec<(FileId, String, Arc<KeptBath>)>,
    /// The clearing tests, in the order of files and lines.
    pub tests: Vec<Arc<ClearingTest>>,
    /// The sessions, retracted ones too, in the order of files and lines.
    pub sessions: Vec<Arc<Session>>,
    /// The backlogs that each file can name.
    pub backlogs: Vec<(FileId, String, Arc<Backlog>)>,
}

impl Darkroom {
    /// Each bottle once, in the order of files and lines.
    pub fn bottles(&self) -> impl Iterator<Item = &Arc<KeptBath>> {
        let own = |(file, name, bath): &&(FileId, String, Arc<KeptBath>)| {
            *file == bath.span.file && *name == bath.name
        };
        self.baths.iter().filter(own).map(|(_, _, bath)| bath)
    }

    /// Each backlog once, in the order of files and names.
    pub fn backlogs_once(&self) -> impl Iterator<Item = &Arc<Backlog>> {
        let own = |(file, name, backlog): &&(FileId, String, Arc<Backlog>)| {
            *file == backlog.span.file && *name == backlog.name
        };
        self.backlogs.iter().filter(own).map(|(_, _, backlog)| backlog)
    }

    /// Removes what these files declare.
    pub fn leave_out(&mut self, files: &BTreeSet<FileId>) {
        self.baths.retain(|(_, _, bath)| !files.contains(&bath.span.file));
        self.tests.retain(|test| !files.contains(&test.span.file));
        self.sessions.retain(|session| !files.contains(&session.span.file));
        self.backlogs.retain(|(_, _, backlog)| !files.contains(&backlog.span.file));
    }

    /// The sessions that are not retracted.
    pub fn standing(&self) -> impl Iterator<Item = &Arc<Session>> {
        self.sessions.iter().filter(|session| session.retracted.is_none())
    }
}

/// The measured clearing time of a film in a bottle (R11): `test fix-a-1 { … }`.
#[derive(Debug, Clone)]
pub struct ClearingTest {
    /// Its name.
    pub name: String,
    /// Its header.
    pub span: Span,
    /// The bottle.
    pub bath: Arc<KeptBath>,
    /// The film.
    pub film: Arc<Film>,
    /// The date.
    pub date: Stated<Date>,
    /// The clearing time.
    pub time: Stated<Time>,
    /// The temperature of the bath.
    pub at: Temperature,
}

/// A bath in its bottle: `bath fix-a { … }`.
#[derive(Debug, Clone)]
pub struct KeptBath {
    /// Its name.
    pub name: String,
    /// Its title, or its name if it has none.
    pub title: String,
    /// Its header.
    pub span: Span,
    /// Its solution.
    pub solution: Arc<Solution>,
    /// Its dilution.
    pub dilution: Dilution,
    /// The volume made.
    pub volume: Stated<Volume>,
    /// The day it was made.
    pub mixed: Stated<Date>,
    /// The day it was poured away.
    pub discarded: Option<Stated<Date>>,
}

/// A session as it was done: `session evening-1 { … }`. The shelf may no longer have its recipe and tank.
#[derive(Debug, Clone)]
pub struct Session {
    /// Its name.
    pub name: String,
    /// Its header.
    pub span: Span,
    /// The date.
    pub date: Stated<Date>,
    /// The backlog of its labels.
    pub backlog: Option<Arc<Backlog>>,
    /// The rolls in the tank, from the bottom up.
    pub slots: Vec<Slot>,
    /// The bottles it used.
    pub baths: Vec<Stated<Arc<KeptBath>>>,
    /// The reason it was retracted, if it was.
    pub retracted: Option<Stated<String>>,
}

/// A place in the tank.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Slot {
    /// Its number from the bottom, from 1.
    pub slot: u32,
    /// The roll's label.
    pub label: Option<String>,
    /// Its format.
    pub format: Format,
    /// The span that states it.
    pub span: Span,
}

impl Session {
    /// Its film, in twelfths of a roll (R12).
    pub fn twelfths(&self) -> i64 {
        self.slots.iter().map(|slot| i64::from(slot.format.twelfths())).sum()
    }
}

/// Exposed rolls to be developed: `backlog autumn { … }`.
#[derive(Debug, Clone)]
pub struct Backlog {
    /// Its name.
    pub name: String,
    /// Its title, or its name if it has none.
    pub title: String,
    /// Its header.
    pub span: Span,
    /// The recipes to prefer, each by its file and name.
    pub recipes: Vec<(FileId, String)>,
    /// The rolls, in the order of exposure.
    pub rolls: Vec<Exposed>,
    /// The index of each label in `rolls`.
    pub places: BTreeMap<String, usize>,
}

impl Backlog {
    /// The roll with this label.
    pub fn roll(&self, label: &str) -> Option<&Exposed> {
        self.places.get(label).and_then(|at| self.rolls.get(*at))
    }
}

/// An exposed roll.
#[derive(Debug, Clone)]
pub struct Exposed {
    /// Its label, unique in the backlog.
    pub label: String,
    /// Its format.
    pub format: Format,
    /// Its film.
    pub film: Arc<Film>,
    /// Its exposure index, if stated.
    pub index: Option<u32>,
    /// The date of exposure.
    pub shot: Option<Date>,
    /// The span that states it.
    pub span: Span,
}

impl Exposed {
    /// Its exposure index, or the nominal speed of the film.
    pub fn exposed_at(&self) -> Option<u32> {
        self.index.or_else(|| self.film.speed.map(|speed| *speed))
    }
}
