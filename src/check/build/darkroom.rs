//! Builds baths, tests, sessions, retractions and backlogs, and reports contradictions between them.

use std::collections::BTreeMap;
use std::sync::Arc;

use super::super::error;
use super::{Builder, Built, named};
use crate::model::{Backlog, ClearingTest, Darkroom, Date, Exposed, KeptBath, Session, Slot, Stated};
use crate::source::{Diagnostic, FileId, Span, clip};
use crate::vocabulary::{Declared, Lines as _, Matched, Reading, say};

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

    fn session(&mut self, reading: &Reading) -> Option<Session> {
        let before = self.faults.len();
        let backlog = reading.one_sound::<say::SessionBacklog>().map(|row| {
            let name = row.said(say::SessionBacklog::backlog)?;
            self.find(Declared::Backlog, name, |it| &it.backlogs)
        });
        let (baths, _) = self.rows(reading, |it, row: Matched<'_, say::SessionBath>| {
            Some(Stated::new(it.find_bath(row.said(say::SessionBath::bath)?)?, row.span))
        });
        let slots: Vec<Slot> = reading.each().filter_map(slot).collect();
        self.differ(&baths, &slots, reading);
        self.labels_differ(slots.iter().filter_map(|slot| Some((slot.label.as_deref()?, slot.span))));
        if let Some(Some(backlog)) = &backlog {
            self.faults.extend(slots.iter().filter_map(|slot| not_in_backlog(slot, backlog)));
        }
        let recipe = reading.one_sound::<say::SessionRecipe>()?;
        let fingerprint = recipe.fingerprint()?;
        if !is_hex(fingerprint, 8, 8) {
            self.error(
                "bad-fingerprint",
                recipe.span,
                format!("'{}' is not a fingerprint", clip(fingerprint)),
                "write the eight letters and figures at the top right of the card, such as \"46ac83d1\"",
            );
        }
        let revision = reading.stated(say::Revision::revision);
        if let Some(Stated { value: text, span }) = revision.filter(|text| !is_hex(text.value, 7, 64)) {
            self.error(
                "bad-revision",
                span,
                format!("'{}' is not a revision", clip(text)),
                "write what git log shows, such as \"0f4c1d27aa31\", or remove the line",
            );
        }
        let (name, _) = named(reading)?;
        let date = reading.stated(say::On::date)?;
        let complete = self.faults.len() == before && !matches!(backlog, Some(None));
        (reading.is_sound() && complete).then_some(Session {
            name,
            span: reading.span,
            date,
            backlog: backlog.flatten(),
            slots,
            baths,
            retracted: None,
        })
    }

    fn differ(&mut self, baths: &[Stated<Arc<KeptBath>>], slots: &[Slot], reading: &Reading) {
        self.distinct(
            "repeated-bath",
            baths.iter().map(|bath| ((bath.value.span, &bath.value.name), bath.span)),
            |(_, name)| format!("the bath '{}' occurs twice", clip(name)),
            "remove this line: a session has each bath once",
        );
        self.distinct(
            "repeated-slot",
            slots.iter().map(|slot| (slot.slot, slot.span)),
            |slot| format!("two rolls are in slot {slot}"),
            "number the slots from the bottom of the tank, from 1, each once",
        );
        self.distinct(
            "repeated-temperature",
            reading.each::<say::SessionStep>().filter_map(|row| Some(((row.kind()?, row.name()), row.span))),
            |(kind, name)| {
                let name = name.map(|name| format!(" {}", clip(name))).unwrap_or_default();
                format!("{}{name} already has a temperature", kind.word())
            },
            "keep the right one; the name of a step follows its kind: step wash last at 20 C",
        );
    }

    fn backlog(&mut self, reading: &Reading) -> Option<Backlog> {
        let before = self.faults.len();
        let (rolls, has_rolls) = self.rows(reading, Builder::roll);
        let (recipes, has_recipes) = self.rows(reading, Builder::backlog_recipe);
        self.labels_differ(rolls.iter().map(|roll| (roll.label.as_str(), roll.span)));
        let (name, title) = named(reading)?;
        // A backlog with a roll that could not be read is left out as a whole.
        let complete = has_rolls && has_recipes && self.faults.len() == before;
        (reading.is_sound() && complete).then(|| Backlog {
            name,
            title,
            span: reading.span,
            recipes,
            places: rolls.iter().enumerate().map(|(at, roll)| (roll.label.clone(), at)).collect(),
            rolls,
        })
    }

    fn roll(&mut self, row: Matched<'_, say::Roll>) -> Option<Exposed> {
        Some(Exposed {
            film: self.find_film(row.said(say::Roll::film)?)?,
            label: row.label()?.to_owned(),
            format: row.format()?,
            index: row.index(),
            shot: row.shot(),
            span: row.span,
        })
    }

    fn backlog_recipe(&mut self, row: Matched<'_, say::BacklogRecipe>) -> Option<(FileId, String)> {
        let (name, span) = row.said(say::BacklogRecipe::recipe)?;
        let key = self.scopes.find(Declared::Recipe, (name, span), &mut self.faults)?;
        Some((key.file, name.rsplit('/').next().unwrap_or(name).to_owned()))
    }

    fn labels_differ<'r>(&mut self, labels: impl Iterator<Item = (&'r str, Span)>) {
        let (empty, labels): (Vec<_>, Vec<_>) = labels.partition(|(label, _)| label.trim().is_empty());
        for (_, span) in empty {
            self.error(
                "empty-label",
                span,
                "the label of this roll is empty",
                "write what is on the roll, such as \"E-01\"",
            );
        }
        self.distinct(
            "repeated-label",
            labels,
            |label: &&str| format!("there is already a roll '{}'", clip(label)),
            "give each roll its own label",
        );
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

    /// Reports entries that contradict each other, such as a bath used after it was discarded. Retracted sessions are
    /// skipped.
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

    /// Reports a bath that was not mixed yet on the day `on`, or was already discarded.
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

fn slot(row: Matched<'_, say::Loaded>) -> Option<Slot> {
    let (slot, format) = row.slot().zip(row.format())?;
    Some(Slot { slot, label: row.label().map(str::to_owned), format, span: row.span })
}

/// The error of a roll whose label the backlog lacks, or has with another format.
fn not_in_backlog(slot: &Slot, backlog: &Backlog) -> Option<Diagnostic> {
    let label = slot.label.as_ref()?;
    let Some(roll) = backlog.roll(label) else {
        return Some(
            error(
                "unknown-roll",
                slot.span,
                format!("the backlog '{}' has no roll '{}'", backlog.name, clip(label)),
                "write a label of the backlog, or add the roll there",
            )
            .other(backlog.span, "the backlog"),
        );
    };
    let (there, here) = (roll.format.word(), slot.format.word());
    let fault = error(
        "roll-of-another-format",
        slot.span,
        format!("the roll '{}' is {there} in its backlog, and {here} here", clip(label)),
        "correct the format here or in the backlog",
    )
    .other(roll.span, "the roll");
    (roll.format != slot.format).then_some(fault)
}

fn is_hex(text: &str, least: usize, most: usize) -> bool {
    (least..=most).contains(&text.len())
        && text.bytes().all(|byte| byte.is_ascii_hexdigit() && !byte.is_ascii_uppercase())
}
