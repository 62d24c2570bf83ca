//! One's own darkroom: the bottles that stand in it, what they were tested for, and what was done with
//! them. What a bath has treated is not here; it is counted from the sessions.

use std::collections::BTreeSet;
use std::sync::Arc;

use super::Date;
use super::backlog::Backlog;
use super::bath::KeptBath;
use super::film::Film;
use super::quantity::{Temperature, Time};
use super::session::Session;
use super::stated::Stated;
use crate::source::{FileId, Span};

/// Everything of a darkroom that the files of a run declare.
#[derive(Debug, Clone, Default)]
pub struct Darkroom {
    /// The bottles that each file can name: its own and those of the files it uses, with the name each
    /// has there.
    pub baths: Vec<(FileId, String, Arc<KeptBath>)>,
    /// The clearing tests, in the order of files and lines.
    pub tests: Vec<Arc<ClearingTest>>,
    /// The sessions, in the order of files and lines, those that were taken back too.
    pub sessions: Vec<Arc<Session>>,
    /// The rolls that wait, as each file can name them.
    pub backlogs: Vec<(FileId, String, Arc<Backlog>)>,
}

impl Darkroom {
    /// Every bottle once, in the order of files and lines.
    pub fn bottles(&self) -> impl Iterator<Item = &Arc<KeptBath>> {
        let own = |(file, name, bath): &&(FileId, String, Arc<KeptBath>)| {
            *file == bath.span.file && *name == bath.name
        };
        self.baths.iter().filter(own).map(|(_, _, bath)| bath)
    }

    /// Every backlog once, in the order of files and names.
    pub fn backlogs_once(&self) -> impl Iterator<Item = &Arc<Backlog>> {
        let own = |(file, name, backlog): &&(FileId, String, Arc<Backlog>)| {
            *file == backlog.span.file && *name == backlog.name
        };
        self.backlogs.iter().filter(own).map(|(_, _, backlog)| backlog)
    }

    /// Takes out what these files declare.
    pub fn leave_out(&mut self, files: &BTreeSet<FileId>) {
        self.baths.retain(|(_, _, bath)| !files.contains(&bath.span.file));
        self.tests.retain(|test| !files.contains(&test.span.file));
        self.sessions.retain(|session| !files.contains(&session.span.file));
        self.backlogs.retain(|(_, _, backlog)| !files.contains(&backlog.span.file));
    }

    /// The sessions that stand, in the order of files and lines: those that nothing took back.
    pub fn standing(&self) -> impl Iterator<Item = &Arc<Session>> {
        self.sessions.iter().filter(|session| session.retracted.is_none())
    }
}

/// How long a film took to clear in a bottle on a day (R11): `test fix-a-1 { … }`.
#[derive(Debug, Clone)]
pub struct ClearingTest {
    /// Its name as declared.
    pub name: String,
    /// Its declaration's header.
    pub span: Span,
    /// The bottle.
    pub bath: Arc<KeptBath>,
    /// The film.
    pub film: Arc<Film>,
    /// The day.
    pub date: Stated<Date>,
    /// How long it took.
    pub time: Stated<Time>,
    /// How warm the bath was.
    pub at: Temperature,
    /// Remarks.
    pub notes: Vec<String>,
}
