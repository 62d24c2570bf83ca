//! Builds baths, tests, sessions, retractions and backlogs.

use std::sync::Arc;

use super::super::error;
use super::{Builder, Built, Key, named};
use crate::model::{
    Backlog, ClearedThen, ClearingTest, Darkroom, DarkroomPart, Exposed, KeptBath, LeftOut, ReadThen,
    Session, Slot, Stated, StepKind, TookThen, UsedBath, is_fingerprint,
};
use crate::source::{FileId, Span, clip};
use crate::vocabulary::{Declared, Lines as _, Matched, Reading, say};

impl Builder<'_> {
    pub(crate) fn darkroom(&mut self) -> Darkroom {
        self.backlogs = self.each(Declared::Backlog, Builder::backlog);
        let tests = self.each(Declared::Test, Builder::test);
        let mut sessions = self.each(Declared::Session, Builder::session);
        let mut left_out = self.left_out(&tests, &sessions);
        self.retract(&mut sessions, &mut left_out);
        let (planned, sessions) =
            sessions.into_iter().partition::<Vec<_>, _>(|(key, _)| self.is_planned(*key));
        let values = |sessions: Vec<(Key, Arc<Session>)>| sessions.into_iter().map(|(_, one)| one).collect();
        let darkroom = Darkroom {
            left_out,
            baths: self.named_in_files(Declared::Bath, &self.baths),
            tests: tests.into_values().collect(),
            sessions: values(sessions),
            planned: values(planned),
            backlogs: self.named_in_files(Declared::Backlog, &self.backlogs),
        };
        self.contradictions(&darkroom);
        self.planned_rolls(&darkroom);
        darkroom
    }

    pub(super) fn bath(&mut self, reading: &Reading) -> Option<KeptBath> {
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
            contents.said(say::BathIn::part),
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
            part: contents.part().map(str::to_owned),
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
            let bath = it.find_bath(row.said(say::SessionBath::bath)?)?;
            let is_second = row.second().is_some();
            Some(UsedBath { bath, is_second, doubt: row.doubt().map(str::to_owned), span: row.span })
        });
        let slots: Vec<Slot> = reading.each().filter_map(slot).collect();
        self.differ(&baths, &slots, reading);
        let certain = slots.iter().filter(|slot| slot.doubt.is_none());
        self.labels_differ(certain.filter_map(|slot| Some((slot.label.as_deref()?, slot.span))));
        let recipe = reading.one_sound::<say::SessionRecipe>()?;
        let fingerprint = recipe.fingerprint()?;
        if !is_fingerprint(fingerprint) {
            self.error(
                "bad-fingerprint",
                recipe.span,
                format!("'{}' is not a fingerprint", clip(fingerprint)),
                "write what is at the top right of the card, such as \"W301-W94N\"",
            );
        }
        self.check_revision(reading);
        let (name, _) = named(reading)?;
        let planned = reading.stated(say::Planned::date);
        if planned.is_some() {
            self.is_only_planned(reading);
        }
        let date = planned.or_else(|| reading.stated(say::On::date))?;
        let complete = self.no_error_since(before) && !matches!(backlog, Some(None));
        let anyway = reading.each::<say::SessionAnyway>();
        let cleared = reading.each::<say::SessionCleared>();
        (reading.is_sound() && complete).then_some(Session {
            name,
            span: reading.span,
            date,
            planned_as: reading.one::<say::PlannedAs>().and_then(|row| row.session()).map(str::to_owned),
            recipe: recipe.recipe()?.to_owned(),
            fingerprint: fingerprint.to_owned(),
            tank: reading.one::<say::SessionTank>().and_then(|row| row.tank()).map(str::to_owned),
            volume: reading.one::<say::SessionVolume>().and_then(|row| row.volume()),
            backlog: backlog.flatten(),
            slots,
            baths,
            anyway: anyway.filter_map(|row| Some(Stated::new(row.name()?.to_owned(), row.span))).collect(),
            at: reading.stated(say::SessionAt::temperature).map(|at| at.value),
            dunk: reading.one::<say::SessionDunk>().is_some(),
            cleared: cleared.filter_map(cleared_then).collect(),
            took: reading.each().flat_map(took_then).collect(),
            read: reading.each().flat_map(read_then).collect(),
            notes: [reading.cautions(), reading.notes()].concat(),
            retracted: None,
        })
    }

    fn check_revision(&mut self, reading: &Reading) {
        let revision = reading.stated(say::Revision::revision);
        if let Some(Stated { value: text, span }) = revision.filter(|text| !is_hex(text.value, 7, 64)) {
            self.error(
                "bad-revision",
                span,
                format!(
                    "'{}' is not the number of a commit, which has 7 to 64 digits and letters from a to f",
                    clip(text)
                ),
                "write what git log shows, such as: revision \"0f4c1d27aa31\"; or remove the line",
            );
        }
    }

    fn differ(&mut self, baths: &[UsedBath], slots: &[Slot], reading: &Reading) {
        self.distinct(
            "repeated-bath",
            baths.iter().map(|used| ((used.bath.span, &used.bath.name), used.span)),
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
            "remove one of the two lines; or, if this one is for another step of this kind, add the name of that step, \
             such as: step wash second at 18 C",
        );
    }

    fn backlog(&mut self, reading: &Reading) -> Option<Backlog> {
        let before = self.faults.len();
        let (rolls, has_rolls) = self.rows(reading, Builder::roll);
        let (recipes, has_recipes) = self.rows(reading, Builder::backlog_recipe);
        self.labels_differ(rolls.iter().map(|roll| (roll.label.as_str(), roll.span)));
        let (name, title) = named(reading)?;
        // A backlog is left out if any of its rolls or recipes has an error.
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

    /// Lists what the darkroom lacks because of errors. That is each bath, backlog, test or session with errors, and
    /// each test or session that names an unknown bath. For each file, it is also the first line with an error outside
    /// of declarations. Planned sessions are not listed.
    fn left_out(&self, tests: &Built<ClearingTest>, sessions: &Built<Session>) -> Vec<LeftOut> {
        let mut all = Vec::new();
        for unit in self.units.values() {
            let line = unit.lost_line();
            all.extend(line.map(|span| LeftOut { span, part: DarkroomPart::Line, baths: None }));
            for (at, reading) in unit.readings.iter().enumerate() {
                let key = Key { file: unit.file, at };
                if self.is_planned(key) {
                    continue;
                }
                let (part, is_built) = match reading.declares() {
                    Some(Declared::Bath) => (DarkroomPart::Bath, self.baths.contains_key(&key)),
                    Some(Declared::Backlog) => (DarkroomPart::Backlog, self.backlogs.contains_key(&key)),
                    Some(Declared::Test) => (DarkroomPart::Test, tests.contains_key(&key)),
                    Some(Declared::Session) => (DarkroomPart::Session, sessions.contains_key(&key)),
                    _ => continue,
                };
                let baths = match part {
                    DarkroomPart::Test | DarkroomPart::Session => self.baths_named(reading),
                    _ => Some(Vec::new()),
                };
                if !is_built || baths.is_none() {
                    all.push(LeftOut { span: reading.span, part, baths });
                }
            }
        }
        all
    }

    /// The header spans of the baths that a session or a test names, except baths with errors. `None` if a name is
    /// unknown or a line has an error.
    fn baths_named(&self, reading: &Reading) -> Option<Vec<Span>> {
        let of_sessions = reading.each::<say::SessionBath>().map(|row| row.said(say::SessionBath::bath));
        let of_tests = reading.each::<say::TestBath>().map(|row| row.said(say::TestBath::bath));
        let mut baths = Vec::new();
        for named in of_sessions.chain(of_tests) {
            let (name, span) = named?;
            let key = self.scopes.known(Declared::Bath, name, span.file)?;
            baths.extend(self.baths.get(&key).map(|bath| bath.span));
        }
        (reading.block_sound && reading.rows.iter().all(Reading::is_sound)).then_some(baths)
    }

    fn retract(&mut self, sessions: &mut Built<Session>, left_out: &mut Vec<LeftOut>) {
        let rows = self.units.values().flat_map(|unit| unit.readings.iter());
        for row in rows.filter_map(Reading::view::<say::Retract>).filter(|row| row.sound) {
            let key = row.said(say::Retract::session);
            let key = key.and_then(|name| self.scopes.find(Declared::Session, name, &mut self.faults));
            if key.is_none() {
                left_out.push(LeftOut { span: row.span, part: DarkroomPart::Line, baths: None });
            }
            let session = key.and_then(|key| sessions.get_mut(&key)).map(Arc::make_mut);
            let Some((session, why)) = session.zip(row.reason()) else { continue };
            match &session.retracted {
                Some(earlier) => {
                    let fault = error(
                        "repeated-retraction",
                        row.span,
                        "this session is already retracted",
                        "keep one of the two lines and remove the other",
                    );
                    self.report(fault.other(earlier.span, "retracted here"));
                }
                None => session.retracted = Some(Stated::new(why.to_owned(), row.span)),
            }
        }
    }
}

fn slot(row: Matched<'_, say::Loaded>) -> Option<Slot> {
    let (slot, format) = row.slot().zip(row.format())?;
    let (label, doubt) = (row.label().map(str::to_owned), row.doubt().map(str::to_owned));
    let both_sides = row.has(say::Loaded::both);
    Some(Slot { slot, label, format, both_sides, doubt, span: row.span })
}

fn cleared_then(row: Matched<'_, say::SessionCleared>) -> Option<ClearedThen> {
    let (kind, time) = row.kind().zip(row.time())?;
    Some(ClearedThen { kind, name: row.name().map(str::to_owned), time, span: row.span })
}

/// Each step that a line such as `took develop 8:59, fix 4:10` names, with the byte range of its values. The range goes
/// from the step to the next step, or to `u32::MAX` for the last step.
fn steps(steps: impl Iterator<Item = (StepKind, Span)>) -> Vec<(StepKind, std::ops::Range<u32>)> {
    let steps: Vec<(StepKind, Span)> = steps.collect();
    let ends = steps.iter().skip(1).map(|(_, next)| next.start).chain([u32::MAX]);
    steps.iter().zip(ends).map(|((kind, span), end)| (*kind, span.start..end)).collect()
}

fn within<T>(part: &std::ops::Range<u32>, values: impl Iterator<Item = (T, Span)>) -> Option<T> {
    let mut values = values;
    values.find(|(_, span)| part.contains(&span.start)).map(|(value, _)| value)
}

fn took_then(row: Matched<'_, say::SessionTook>) -> Vec<TookThen> {
    let one = |(kind, part)| {
        let name = within(&part, row.all(say::SessionTook::name)).map(str::to_owned);
        let time = within(&part, row.all(say::SessionTook::time))?;
        Some(TookThen { kind, name, time, of: within(&part, row.all(say::SessionTook::of)) })
    };
    steps(row.all(say::SessionTook::kind)).into_iter().filter_map(one).collect()
}

fn read_then(row: Matched<'_, say::SessionRead>) -> Vec<ReadThen> {
    let one = |(kind, part)| {
        let name = within(&part, row.all(say::SessionRead::name)).map(str::to_owned);
        let at = within(&part, row.all(say::SessionRead::time))?;
        Some(ReadThen { kind, name, at, temperature: within(&part, row.all(say::SessionRead::at))? })
    };
    steps(row.all(say::SessionRead::kind)).into_iter().filter_map(one).collect()
}

fn is_hex(text: &str, least: usize, most: usize) -> bool {
    (least..=most).contains(&text.len())
        && text.bytes().all(|byte| byte.is_ascii_hexdigit() && !byte.is_ascii_uppercase())
}
