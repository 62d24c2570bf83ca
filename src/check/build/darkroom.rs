//! A darkroom: baths, tests and retractions, and the contradictions between them and the sessions.

use std::collections::BTreeMap;
use std::sync::Arc;

use super::super::error;
use super::{Builder, Built, named};
use crate::model::{ClearingTest, Darkroom, Date, KeptBath, Session, Stated};
use crate::source::{Span, clip};
use crate::vocabulary::{Declared, Lines as _, Reading, say};

impl Builder<'_> {
    pub(crate) fn darkroom(&mut self) -> Darkroom {
        self.baths = self.each(Declared::Bath, Builder::bath);
        self.backlogs = self.each(Declared::Backlog, Builder::backlog);
        let tests = self.each(Declared::Test, Builder::test);
        let mut sessions = self.each(Declared::Session, Builder::session);
        self.retract(&mut sessions);
        let darkroom = Darkroom {
            baths: self.named_in_files(Declared::Bath, &self.baths),
            tests: tests.into_values().collect(),
            sessions: sessions.into_values().collect(),
            backlogs: self.named_in_files(Declared::Backlog, &self.backlogs),
        };
        self.contradictions(&darkroom);
        darkroom
    }

    fn bath(&mut self, reading: &Reading) -> Option<KeptBath> {
        let (mixed, discarded) = (reading.stated(say::Mixed::date), reading.stated(say::Discarded::date));
        let reversed = mixed.zip(discarded).filter(|(mixed, discarded)| discarded.value < mixed.value);
        if let Some((mixed, discarded)) = reversed {
            self.report(
                error(
                    "discarded-before-mixed",
                    discarded.span,
                    format!("this is before {}, when the bath was mixed", mixed.value),
                    "correct one of the two days",
                )
                .other(mixed.span, "mixed here"),
            );
        }
        let contents = reading.one_sound::<say::BathIn>()?;
        let (solution, dilution) = self.diluted(
            contents.said(say::BathIn::solution)?,
            contents.dilution(),
            contents.place(say::BathIn::dilution),
        )?;
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
        let (name, _) = named(reading)?;
        reading.is_sound().then_some(ClearingTest {
            name,
            span: reading.span,
            bath: bath?,
            film: film?,
            date: reading.stated(say::On::date)?,
            time: reading.stated(say::TestClears::time)?,
            at: reading.stated(say::TestClears::at)?.value,
        })
    }

    fn retract(&mut self, sessions: &mut Built<Session>) {
        let rows = self.units.values().flat_map(|unit| unit.readings.iter());
        for row in rows.filter_map(Reading::view::<say::Retract>).filter(|row| row.sound) {
            let key = row.said(say::Retract::session);
            let key = key.and_then(|name| self.scopes.find(Declared::Session, name, &mut self.faults));
            let session = key.and_then(|key| sessions.get_mut(&key)).map(Arc::make_mut);
            let Some((session, why)) = session.zip(row.reason()) else { continue };
            match &session.retracted {
                Some(earlier) => {
                    let fault = error(
                        "repeated-retraction",
                        row.span,
                        "this session is already retracted",
                        "keep one of the two lines",
                    );
                    self.report(fault.other(earlier.span, "here"));
                }
                None => session.retracted = Some(Stated::new(why.to_owned(), row.span)),
            }
        }
    }

    /// Reports contradictions; retracted sessions are ignored.
    fn contradictions(&mut self, darkroom: &Darkroom) {
        for test in &darkroom.tests {
            self.bath_exists(&test.bath, test.date.value, test.date.span);
        }
        let mut known: BTreeMap<(Span, &str), (Span, &Session)> = BTreeMap::new();
        for session in darkroom.standing() {
            let on = session.date.value;
            for bath in &session.baths {
                self.bath_exists(&bath.value, on, bath.span);
            }
            let Some(backlog) = &session.backlog else { continue };
            for slot in &session.slots {
                let Some(label) = slot.label.as_deref() else { continue };
                if let Some((earlier, by)) = known.insert((backlog.span, label), (slot.span, session)) {
                    let on = by.date.value;
                    self.report(
                        error(
                            "developed-twice",
                            slot.span,
                            format!("the roll '{}' was already developed on {on}", clip(label)),
                            "correct the label, or retract the wrong session: retract … because \"…\"",
                        )
                        .other(earlier, format!("in '{}'", by.name)),
                    );
                }
                if let Some(roll) = backlog.roll(label)
                    && let Some(shot) = roll.shot.filter(|shot| on < *shot)
                {
                    let label = clip(label);
                    self.report(
                        error(
                            "developed-before-shot",
                            slot.span,
                            format!("the roll '{label}' was shot on {shot}, after this session of {on}"),
                            "correct the label or the day",
                        )
                        .other(roll.span, "the roll"),
                    );
                }
            }
        }
    }

    /// Reports a bath that was not mixed yet on a day, or was already discarded.
    fn bath_exists(&mut self, bath: &KeptBath, on: Date, span: Span) {
        let (fate, other) = match bath.discarded {
            _ if on < bath.mixed.value => ("not mixed yet", bath.mixed.span),
            Some(discarded) if discarded.value < on => ("already discarded", discarded.span),
            _ => return,
        };
        self.report(
            error(
                "bath-not-there",
                span,
                format!("on {on} the bath '{}' was {fate}", bath.name),
                "correct the day, or name the bath that was used",
            )
            .other(other, "the bath's day"),
        );
    }
}
