//! The user's darkroom: bottles, clearing tests, sessions and backlogs.

use std::sync::Arc;

use super::Date;
use super::format::Format;
use super::keeping::KeepsFor;
use super::quantity::{Temperature, Time, Volume};
use super::recipe::{Film, Stated};
use super::solution::{Dilution, Solution};
use super::step::{Bath, StepKind};
use super::words;
use crate::source::{FileId, Map, Set, Sorted as _, Span};

/// The bottles, clearing tests, sessions and backlogs of all files.
#[derive(Debug, Clone, Default)]
pub struct Darkroom {
    /// The bottles that each file declares or imports: the file, the bottle's name in the file, and the bottle.
    pub baths: Vec<(FileId, String, Arc<KeptBath>)>,
    /// The clearing tests, in the order of files and lines.
    pub tests: Vec<Arc<ClearingTest>>,
    /// The sessions that were done, including retracted ones, in the order of files and lines.
    pub sessions: Vec<Arc<Session>>,
    /// The planned sessions, including those retracted or done since, in the order of files and lines. They are not
    /// counted as uses of bottles.
    pub planned: Vec<Arc<Session>>,
    /// The backlogs that each file declares or imports: the file, the backlog's name in the file, and the backlog.
    pub backlogs: Vec<(FileId, String, Arc<Backlog>)>,
    /// The declarations and lines that are not counted, because they have errors.
    pub left_out: Vec<LeftOut>,
}

/// A declaration or a line that is not counted, or not fully, because of an error.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct LeftOut {
    /// The span of the declaration's header, or of the line.
    pub span: Span,
    /// The kind of the declaration.
    pub part: DarkroomPart,
    /// The spans of the headers of the bottles whose uses or tests are not counted; `None` if any bottle may be
    /// affected.
    pub baths: Option<Vec<Span>>,
}

words! {
    /// What is left out because of an error: a kind of declaration, or a line that may declare one.
    pub enum DarkroomPart {
        /// A bottle with a mixed bath.
        Bath = "bath",
        Test = "test",
        Session = "session",
        Backlog = "backlog",
        /// A line outside of declarations, which may be meant as one of the kinds above or as a retraction.
        Line = "line",
    }
}

impl Darkroom {
    /// The last session that is not retracted.
    pub fn last_session(&self) -> Option<&Session> {
        let sessions = self.sessions.iter().filter(|session| session.retracted.is_none());
        sessions.max_by_key(|session| (session.date.value, &session.name)).map(|session| &**session)
    }

    /// Each bottle once, even if other files import it, in the order of files and lines.
    pub fn bottles(&self) -> impl Iterator<Item = &Arc<KeptBath>> {
        let declared =
            self.baths.iter().filter(|(file, name, bath)| *file == bath.span.file && *name == bath.name);
        declared.map(|(_, _, bath)| bath)
    }

    /// Each backlog once, even if other files import it, in the order of files and names.
    pub fn backlogs_once(&self) -> impl Iterator<Item = &Arc<Backlog>> {
        let backlogs = self.backlogs.iter();
        let declared = backlogs.filter(|(file, name, own)| *file == own.span.file && *name == own.name);
        declared.map(|(_, _, backlog)| backlog)
    }

    /// Removes all declarations of these files.
    pub fn leave_out(&mut self, files: &Set<FileId>) {
        self.baths.retain(|(_, _, bath)| !files.contains(&bath.span.file));
        self.tests.retain(|test| !files.contains(&test.span.file));
        self.sessions.retain(|session| !files.contains(&session.span.file));
        self.planned.retain(|session| !files.contains(&session.span.file));
        self.backlogs.retain(|(_, _, backlog)| !files.contains(&backlog.span.file));
        self.left_out.retain(|left| !files.contains(&left.span.file));
    }

    /// The files that declare bottles, clearing tests, sessions or backlogs, in any order and perhaps repeated.
    pub fn files(&self) -> impl Iterator<Item = FileId> {
        let baths = self.bottles().map(|bath| bath.span.file);
        let tests = self.tests.iter().map(|test| test.span.file);
        let sessions = self.sessions.iter().chain(&self.planned).map(|session| session.span.file);
        baths.chain(tests).chain(sessions).chain(self.backlogs_once().map(|backlog| backlog.span.file))
    }

    /// The sessions that are not retracted.
    pub fn standing(&self) -> impl Iterator<Item = &Arc<Session>> {
        self.sessions.iter().filter(|session| session.retracted.is_none())
    }

    /// The planned sessions that are neither done nor retracted, in the order of their days, files and lines.
    pub fn to_do(&self) -> Vec<&Arc<Session>> {
        let done: Set<&str> = self.standing().filter_map(|session| session.planned_as.as_deref()).collect();
        let is_open =
            |session: &&Arc<Session>| session.retracted.is_none() && !done.contains(session.name.as_str());
        let mut open: Vec<&Arc<Session>> = self.planned.iter().filter(is_open).collect();
        open.order_by_key(|session| (*session.date, session.span));
        open
    }
}

/// The measured clearing time of a film in a bottle (R11): `test fix-a-1 { … }`.
#[derive(Debug, Clone)]
pub struct ClearingTest {
    /// The test's name.
    pub name: String,
    /// The span of the test's header line.
    pub span: Span,
    /// The bottle whose bath was tested.
    pub bath: Arc<KeptBath>,
    /// The film that was tested.
    pub film: Arc<Film>,
    /// The date of the test.
    pub date: Stated<Date>,
    /// The measured clearing time.
    pub time: Stated<Time>,
    /// The temperature of the bath during the test.
    pub at: Temperature,
}

/// A mixed bath in its bottle: `bath fix-a { … }`.
#[derive(Debug, Clone)]
pub struct KeptBath {
    /// The bath's name.
    pub name: String,
    /// The bath's title, or else the name.
    pub title: String,
    /// The span of the bath's header line.
    pub span: Span,
    /// The bath's solution.
    pub solution: Arc<Solution>,
    /// The name of the bottle from which the bath is mixed; `None` if it is mixed from all bottles of the solution.
    pub part: Option<String>,
    /// The bath's dilution.
    pub dilution: Dilution,
    /// The volume that was mixed.
    pub volume: Stated<Volume>,
    /// The day on which the bath was mixed.
    pub mixed: Stated<Date>,
    /// The day on which the bath was poured away, if it was.
    pub discarded: Option<Stated<Date>>,
}

impl KeptBath {
    /// The last day on which the bath is good; `None` if its solution states no keeping time.
    pub fn keeps_until(&self) -> Option<Date> {
        Some(match self.solution.keeps_at(&self.dilution)?.time {
            KeepsFor::Calendar(keeping) => self.mixed.keeps_until(keeping),
            KeepsFor::Clock(time) => self.mixed.days_later(time.ms / 86_400_000),
        })
    }

    /// Whether this bottle holds a recipe's bath: the same solution at the same dilution, mixed from all of the
    /// solution's bottles or from the same one.
    pub fn holds(&self, bath: &Bath) -> bool {
        let solution = bath.solution.as_ref();
        solution.is_some_and(|own| Arc::ptr_eq(own, &self.solution))
            && (&self.part, &self.dilution) == (&bath.part, &bath.dilution)
    }
}

/// A session, done or planned: `session evening-1 { … }`. The recipe and the tank that it names need not exist any
/// more.
#[derive(Debug, Clone)]
pub struct Session {
    /// The session's name.
    pub name: String,
    /// The span of the session's header line.
    pub span: Span,
    /// The day of the session; of a planned session, the day for which it is planned.
    pub date: Stated<Date>,
    /// The name of the planned session that was done in this session, if any.
    pub planned_as: Option<String>,
    /// The name that the recipe had on the day of the session.
    pub recipe: String,
    /// The fingerprint of the recipe on that day.
    pub fingerprint: String,
    /// The name that the tank had on the day of the session, if stated.
    pub tank: Option<String>,
    /// The volume in the tank, if stated.
    pub volume: Option<Volume>,
    /// The backlog that declares the labels of the rolls.
    pub backlog: Option<Arc<Backlog>>,
    /// The rolls in the tank, from the bottom up.
    pub slots: Vec<Slot>,
    /// The bottles that the session used.
    pub baths: Vec<UsedBath>,
    /// The labels of rolls and the names of bottles that the user took although the program refused them.
    pub anyway: Vec<Stated<String>>,
    /// The temperature on the card, if the session states it.
    pub at: Option<Temperature>,
    /// Whether a piece of film turned dark in the developer before the rolls were loaded.
    pub dunk: bool,
    /// The clearing times that were measured in the baths of the session.
    pub cleared: Vec<ClearedThen>,
    /// How long some steps really took.
    pub took: Vec<TookThen>,
    /// The temperatures that were read during steps.
    pub read: Vec<ReadThen>,
    /// The notes and the cautions of the session.
    pub notes: Vec<String>,
    /// The reason why the session was retracted, if it was.
    pub retracted: Option<Stated<String>>,
}

/// A reel position in the tank, and the roll there.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Slot {
    /// The number of the position, counted from 1 at the bottom.
    pub slot: u32,
    /// The label of the roll, if it has one.
    pub label: Option<String>,
    /// The roll's format.
    pub format: Format,
    /// Whether the film of the roll is coated on both sides.
    pub both_sides: bool,
    /// The reason to doubt this line of the session, if stated.
    pub doubt: Option<String>,
    /// The span of the line that states the roll.
    pub span: Span,
}

/// A bottle that a session used.
#[derive(Debug, Clone)]
pub struct UsedBath {
    /// The bottle that was used.
    pub bath: Arc<KeptBath>,
    /// Whether the film came from another bottle of the same solution, as it comes to a second fixing bath from the
    /// first. This use of the bottle then does not count.
    pub is_second: bool,
    /// The reason to doubt this line of the session, if stated.
    pub doubt: Option<String>,
    /// The span of the line that names the bottle.
    pub span: Span,
}

/// A clearing time that was measured in the bath of a step during a session.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct ClearedThen {
    /// The kind of the step.
    pub kind: StepKind,
    /// The name of the step, if given.
    pub name: Option<String>,
    /// The clearing time that was measured.
    pub time: Time,
    /// The span of the line that states the clearing time.
    pub span: Span,
}

/// The true time of a step, from its pour to the next bath.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct TookThen {
    /// The kind of the step.
    pub kind: StepKind,
    /// The name of the step, if given.
    pub name: Option<String>,
    /// The time that the step really took.
    pub time: Time,
    /// The time on the card, if given.
    pub of: Option<Time>,
}

/// A temperature that was read during a step.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct ReadThen {
    /// The kind of the step.
    pub kind: StepKind,
    /// The name of the step, if given.
    pub name: Option<String>,
    /// The time on the step's clock when the temperature was read.
    pub at: Time,
    /// The temperature that was read.
    pub temperature: Temperature,
}

impl Session {
    /// The area of film that the session treated, in units of (1/300 mm)². A roll has [`Format::ROLL`] of them (R12).
    /// Film that is coated on both sides counts twice.
    pub fn area(&self) -> i64 {
        let sides = |slot: &Slot| if slot.both_sides { 2 } else { 1 };
        self.slots.iter().map(|slot| sides(slot) * slot.format.area()).fold(0, i64::saturating_add)
    }
}

/// Exposed rolls to be developed: `backlog autumn { … }`.
#[derive(Debug, Clone)]
pub struct Backlog {
    /// The backlog's name.
    pub name: String,
    /// The backlog's title, or else the name.
    pub title: String,
    /// The span of the backlog's header line.
    pub span: Span,
    /// The recipes that a plan prefers, each by file and name.
    pub recipes: Vec<(FileId, String)>,
    /// The rolls, in the order of exposure.
    pub rolls: Vec<Exposed>,
    /// For each label, the index of the roll in `rolls`.
    pub places: Map<String, usize>,
}

impl Backlog {
    /// The roll with this label; `None` if the backlog has none.
    pub fn roll(&self, label: &str) -> Option<&Exposed> {
        self.places.get(label).and_then(|at| self.rolls.get(*at))
    }
}

/// An exposed roll that waits for development.
#[derive(Debug, Clone)]
pub struct Exposed {
    /// The roll's label, which is unique in the backlog.
    pub label: String,
    /// The roll's format.
    pub format: Format,
    /// The roll's film.
    pub film: Arc<Film>,
    /// The roll's exposure index, if stated.
    pub index: Option<u32>,
    /// The date of exposure.
    pub shot: Option<Date>,
    /// The span of the line that states the roll.
    pub span: Span,
}

impl Exposed {
    /// The exposure index of the roll, or else the nominal speed of the film.
    pub fn exposed_at(&self) -> Option<u32> {
        self.index.or_else(|| self.film.speed.map(|speed| *speed))
    }
}
