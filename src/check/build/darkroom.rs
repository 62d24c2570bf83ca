//! A darkroom: baths in bottles, tests, backlogs, sessions and retractions. What contradicts each other is
//! reported by `contradiction.rs`, once everything is known.

use std::collections::BTreeMap;
use std::sync::Arc;

use super::super::scope::Key;
use super::{Builder, named};
use crate::model::{ClearingTest, Darkroom, Dilution, KeptBath, Session, Stated};
use crate::source::Diagnostic;
use crate::vocabulary::{Declared, Lines as _, Reading, say};

impl Builder<'_> {
    /// The darkroom of all files of a run.
    pub(crate) fn darkroom(&mut self) -> Darkroom {
        self.baths = self.each(Declared::Bath, |it, reading| it.bath(reading).map(Arc::new));
        self.backlogs = self.each(Declared::Backlog, |it, reading| it.backlog(reading).map(Arc::new));
        let tests = self.each(Declared::Test, |it, reading| it.test(reading).map(Arc::new));
        let mut sessions = self.each(Declared::Session, Builder::session);
        self.retract(&mut sessions);
        Darkroom {
            baths: self.named_in_files(Declared::Bath, &self.baths),
            tests: tests.into_values().collect(),
            sessions: sessions.into_values().map(Arc::new).collect(),
            backlogs: self.named_in_files(Declared::Backlog, &self.backlogs),
        }
    }

    fn bath(&mut self, reading: &Reading) -> Option<KeptBath> {
        let (mixed, discarded) = (reading.stated(say::Mixed::date), reading.stated(say::Discarded::date));
        let reversed = mixed.zip(discarded).filter(|(mixed, discarded)| discarded.value < mixed.value);
        if let Some((mixed, discarded)) = reversed {
            let message = format!("this is before {}, when the bath was mixed", mixed.value);
            self.report(
                Diagnostic::error("discarded-before-mixed", discarded.span, message)
                    .other(mixed.span, "mixed here")
                    .help("correct one of the two days"),
            );
        }
        let contents = reading.one_sound::<say::BathIn>()?;
        let solution = self.find_solution(contents.said(say::BathIn::solution)?)?;
        let dilution = contents.get(say::BathIn::dilution).cloned().unwrap_or_else(Dilution::stock);
        self.parts_fit(&solution, &dilution, contents.place(say::BathIn::dilution))?;
        let (name, title) = named(reading)?;
        let volume = reading.stated(say::BathVolume::volume)?;
        (reading.is_sound() && reversed.is_none()).then_some(KeptBath {
            name,
            title,
            span: reading.span,
            solution,
            dilution,
            volume,
            mixed: mixed?,
            discarded,
        })
    }

    fn test(&mut self, reading: &Reading) -> Option<ClearingTest> {
        let bath = reading.one_sound::<say::TestBath>();
        let bath = bath.and_then(|row| self.find_bath(row.said(say::TestBath::bath)?));
        let film = reading.one_sound::<say::TestFilm>();
        let film = film.and_then(|row| self.find_film(row.said(say::TestFilm::film)?));
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
        })
    }

    /// Marks the sessions that are retracted.
    fn retract(&mut self, sessions: &mut BTreeMap<Key, Session>) {
        let rows = self.units.values().flat_map(|unit| unit.readings.iter());
        for row in rows.filter_map(Reading::view::<say::Retract>).filter(|row| row.sound) {
            let found = row
                .said(say::Retract::session)
                .and_then(|(name, span)| self.scopes.find(Declared::Session, name, span, &mut self.faults))
                .and_then(|key| sessions.get_mut(&key));
            let Some((session, why)) = found.zip(row.get(say::Retract::reason)) else { continue };
            match &session.retracted {
                Some(earlier) => self.report(
                    Diagnostic::error("repeated-retraction", row.span, "this session is already retracted")
                        .other(earlier.span, "here")
                        .help("keep one of the two lines"),
                ),
                None => session.retracted = Some(Stated::new(why.to_owned(), row.span)),
            }
        }
    }
}
