//! Each use of each bath by the sessions that stand, in the order of the days: what it had treated by then, and what
//! its newest test said.

use std::collections::BTreeMap;
use std::sync::Arc;

use super::capacity::Capacity;
use super::clearing::Cleared;
use crate::model::{ClearingTest, Darkroom, Date, KeptBath, Session};
use crate::source::Span;

/// One use of a bath.
#[derive(Debug, Clone)]
pub struct Usage<'a> {
    /// The bath.
    pub bath: &'a Arc<KeptBath>,
    /// Where the session names it.
    pub span: Span,
    /// The day.
    pub on: Date,
    /// The film it had treated once that session was done, in twelfths of a roll.
    pub treated: i64,
    /// The day of the session before that used it.
    pub before: Option<Date>,
    /// Its newest test up to that day.
    pub cleared: Option<Cleared<'a>>,
}

impl Usage<'_> {
    /// How far the bath goes; `None` where its solution does not say.
    #[must_use]
    pub fn capacity(&self) -> Option<Capacity> {
        Capacity::of(&self.bath.solution, &self.bath.dilution, self.bath.volume.value)
    }

    /// The last day the bath keeps; `None` where its solution does not say.
    #[must_use]
    pub fn keeps_until(&self) -> Option<Date> {
        self.bath.solution.keeps.map(|keeps| self.bath.mixed.value.keeps_until(keeps.value))
    }

    /// Whether a test of that day, or one since then, found that the bath still clears.
    #[must_use]
    pub fn was_tested_since(&self, day: Date) -> bool {
        self.cleared.is_some_and(|cleared| day <= cleared.test.date.value && cleared.still_clears())
    }
}

/// All uses, those of one day in the order of files and lines.
#[must_use]
pub fn usages(darkroom: &Darkroom) -> Vec<Usage<'_>> {
    let mut sessions: Vec<&Arc<Session>> = darkroom.standing().collect();
    sessions.sort_by_key(|session| (session.date.value, session.span));
    let tests = tests(darkroom);
    let mut known: BTreeMap<Span, (i64, Option<Date>)> = BTreeMap::new();
    let mut all = Vec::new();
    for session in sessions {
        let on = session.date.value;
        for named in &session.baths {
            let bath = &named.value;
            let (treated, before) = known.entry(bath.span).or_default();
            *treated = treated.saturating_add(session.twelfths());
            let cleared = tests.get(&bath.span).and_then(|tests| newest(tests, on));
            all.push(Usage { bath, span: named.span, on, treated: *treated, before: *before, cleared });
            *before = Some(on);
        }
    }
    all
}

/// The tests of each bath, in the order of their days.
fn tests(darkroom: &Darkroom) -> BTreeMap<Span, Vec<&Arc<ClearingTest>>> {
    let mut all: BTreeMap<Span, Vec<&Arc<ClearingTest>>> = BTreeMap::new();
    for test in &darkroom.tests {
        all.entry(test.bath.span).or_default().push(test);
    }
    all.values_mut().for_each(|tests| tests.sort_by_key(|test| (test.date.value, test.span)));
    all
}

fn newest<'a>(tests: &[&'a Arc<ClearingTest>], on: Date) -> Option<Cleared<'a>> {
    let by_then = tests.partition_point(|test| test.date.value <= on);
    tests.get(..by_then)?.last().copied().map(Cleared::of)
}
