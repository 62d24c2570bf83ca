//! A darkroom from its declarations: bottles, tests, backlogs, sessions, and what was taken back. What
//! contradicts each other is told in `contradiction.rs` beside this folder, once all of it is known.

use std::collections::BTreeMap;
use std::sync::Arc;

use super::super::gather::Units;
use super::super::scope::{Key, Scopes};
use super::backlog::backlog;
use super::session::session;
use super::solution::parts_fit;
use super::{Built, declared, named};
use crate::model::{Backlog, ClearingTest, Darkroom, Dilution, KeptBath, Session, Stated};
use crate::source::{Diagnostic, FileId, Span};
use crate::syntax::FINDINGS_MAX;
use crate::vocabulary::{Declared, Lines as _, Reading, say};

/// The faults that bottles and retractions tell.
pub(super) const FAULTS: &[(&str, &str)] = &[
    ("discarded-before-mixed", "a bath that was poured away before it was made"),
    ("repeated-retraction", "a session that is taken back twice"),
];

/// What sessions and tests name.
#[derive(Debug)]
pub(super) struct Kept<'a> {
    pub(super) scopes: &'a Scopes,
    baths: BTreeMap<Key, Arc<KeptBath>>,
    backlogs: BTreeMap<Key, Arc<Backlog>>,
}

impl Kept<'_> {
    /// The bottle of that name where it stands; an unknown one is told.
    pub(super) fn bath(
        &self,
        (name, span): (&str, Span),
        faults: &mut Vec<Diagnostic>,
    ) -> Option<Arc<KeptBath>> {
        let key = self.scopes.find(Declared::Bath, name, span, faults)?;
        self.baths.get(&key).cloned()
    }

    /// The backlog of that name where it stands; an unknown one is told.
    pub(super) fn backlog(
        &self,
        (name, span): (&str, Span),
        faults: &mut Vec<Diagnostic>,
    ) -> Option<Arc<Backlog>> {
        let key = self.scopes.find(Declared::Backlog, name, span, faults)?;
        self.backlogs.get(&key).cloned()
    }
}

/// Everything of a darkroom in all files of a run; until there are too many faults.
pub(crate) fn darkroom(units: &Units, built: &Built<'_>, faults: &mut Vec<Diagnostic>) -> Darkroom {
    let scopes = built.scopes;
    let baths = each(units, Declared::Bath, faults, |reading, faults| bath(reading, built, faults));
    let backlogs = each(units, Declared::Backlog, faults, |reading, faults| backlog(reading, built, faults));
    let kept = Kept { scopes, baths: shared(baths), backlogs: shared(backlogs) };
    let tests = each(units, Declared::Test, faults, |reading, faults| test(reading, built, &kept, faults));
    let mut sessions =
        each(units, Declared::Session, faults, |reading, faults| session(reading, &kept, faults));
    retract(units, scopes, &mut sessions, faults);
    Darkroom {
        baths: named_in(units, scopes, Declared::Bath, &kept.baths),
        tests: shared(tests).into_values().collect(),
        sessions: shared(sessions).into_values().collect(),
        backlogs: named_in(units, scopes, Declared::Backlog, &kept.backlogs),
    }
}

fn each<T>(
    units: &Units,
    kind: Declared,
    faults: &mut Vec<Diagnostic>,
    mut made: impl FnMut(&Reading, &mut Vec<Diagnostic>) -> Option<T>,
) -> BTreeMap<Key, T> {
    let mut all = BTreeMap::new();
    for (key, reading) in declared(units, kind) {
        if faults.len() >= FINDINGS_MAX {
            break;
        }
        all.extend(made(reading, faults).map(|one| (key, one)));
    }
    all
}

fn shared<T>(all: BTreeMap<Key, T>) -> BTreeMap<Key, Arc<T>> {
    all.into_iter().map(|(key, one)| (key, Arc::new(one))).collect()
}

fn named_in<T>(
    units: &Units,
    scopes: &Scopes,
    kind: Declared,
    all: &BTreeMap<Key, Arc<T>>,
) -> Vec<(FileId, String, Arc<T>)> {
    let of_file = |file: FileId| {
        let names = scopes.all(file, kind);
        names.filter_map(move |(name, key)| Some((file, name.to_owned(), Arc::clone(all.get(&key)?))))
    };
    units.keys().flat_map(|file| of_file(*file)).collect()
}

fn bath(reading: &Reading, built: &Built<'_>, faults: &mut Vec<Diagnostic>) -> Option<KeptBath> {
    let (mixed, discarded) = (reading.stated(say::Mixed::date), reading.stated(say::Discarded::date));
    let upside_down = mixed.zip(discarded).filter(|(mixed, discarded)| discarded.value < mixed.value);
    if let Some((mixed, discarded)) = upside_down {
        let message = format!("this is before {}, when the bath was made", mixed.value);
        faults.push(
            Diagnostic::error("discarded-before-mixed", discarded.span, message)
                .other(mixed.span, "made here")
                .help("put the two days right; one of them is a slip"),
        );
    }
    let contents = reading.one::<say::BathIn>().filter(|row| row.sound)?;
    let (solution, span) = contents.said(say::BathIn::solution)?;
    let solution = built.solution(solution, span, faults)?;
    let dilution = contents.get(say::BathIn::dilution).cloned().unwrap_or_else(Dilution::stock);
    parts_fit(&solution, &dilution, contents.place(say::BathIn::dilution), faults)?;
    let (name, title) = named(reading)?;
    let volume = reading.stated(say::BathVolume::volume)?;
    (reading.is_sound() && upside_down.is_none()).then_some(KeptBath {
        name,
        title,
        span: reading.span,
        solution,
        dilution,
        volume,
        mixed: mixed?,
        discarded,
        notes: reading.texts(say::Note::text),
        cautions: reading.texts(say::Caution::text),
    })
}

fn test(
    reading: &Reading,
    built: &Built<'_>,
    kept: &Kept<'_>,
    faults: &mut Vec<Diagnostic>,
) -> Option<ClearingTest> {
    let bath = reading.one::<say::TestBath>().filter(|row| row.sound);
    let bath = bath.and_then(|row| kept.bath(row.said(say::TestBath::bath)?, faults));
    let film = reading.one::<say::TestFilm>().filter(|row| row.sound);
    let film = film.and_then(|row| built.film(row.said(say::TestFilm::film)?, faults));
    let clears = reading.one::<say::TestClears>()?;
    let date = reading.stated(say::On::date)?;
    let (name, _) = named(reading)?;
    reading.is_sound().then_some(ClearingTest {
        name,
        span: reading.span,
        bath: bath?,
        film: film?,
        date,
        time: Stated::new(clears.get(say::TestClears::time)?, clears.span),
        at: clears.get(say::TestClears::at)?,
        notes: reading.texts(say::Note::text),
    })
}

/// Marks the sessions that were taken back.
fn retract(
    units: &Units,
    scopes: &Scopes,
    sessions: &mut BTreeMap<Key, Session>,
    faults: &mut Vec<Diagnostic>,
) {
    let rows = units.values().flat_map(|unit| unit.readings.iter());
    for row in rows.filter_map(Reading::view::<say::Retract>).filter(|row| row.sound) {
        let found = row
            .said(say::Retract::session)
            .and_then(|(name, span)| scopes.find(Declared::Session, name, span, faults))
            .and_then(|key| sessions.get_mut(&key));
        let Some((session, why)) = found.zip(row.get(say::Retract::reason)) else { continue };
        match &session.retracted {
            Some(earlier) => faults.push(
                Diagnostic::error("repeated-retraction", row.span, "this session is taken back already")
                    .other(earlier.span, "here")
                    .help("keep one of the two lines"),
            ),
            None => session.retracted = Some(Stated::new(why.to_owned(), row.span)),
        }
    }
}
