//! The newest clearing test of a bath (R11), compared with the film's time in a fresh bath.

use std::collections::BTreeMap;
use std::sync::Arc;

use crate::model::{Clearing, ClearingTest, Darkroom, Date};
use crate::source::Span;

/// A clearing test and the fresh time it compares with.
#[derive(Debug, Clone, Copy)]
pub struct Cleared<'a> {
    /// The test.
    pub test: &'a Arc<ClearingTest>,
    /// The film's clearing time in a fresh bath, if the film states it.
    pub fresh: Option<&'a Clearing>,
}

impl<'a> Cleared<'a> {
    /// A test, with the fresh time of its film in its solution and dilution.
    pub fn of(test: &'a Arc<ClearingTest>) -> Cleared<'a> {
        let bath = &test.bath;
        let is_same =
            |row: &&Clearing| Arc::ptr_eq(&row.solution, &bath.solution) && row.dilution == bath.dilution;
        Cleared { test, fresh: test.film.clears.iter().find(is_same) }
    }

    /// Whether it takes less than twice the fresh time; false without a fresh time.
    pub fn still_clears(self) -> bool {
        self.fresh.is_some() && !self.has_doubled()
    }

    /// Whether it takes twice the fresh time or more. The bath is then exhausted (NAVEDTRA 14209, Photography
    /// (Basic), chapter 10).
    pub fn has_doubled(self) -> bool {
        self.fresh.is_some_and(|fresh| self.test.time.value >= fresh.time.times(2))
    }
}

/// The tests of each bath in the order of days, files and lines.
pub(super) struct Tests<'a>(BTreeMap<Span, Vec<&'a Arc<ClearingTest>>>);

impl<'a> Tests<'a> {
    pub(super) fn of(darkroom: &'a Darkroom) -> Tests<'a> {
        let mut tests: Vec<&Arc<ClearingTest>> = darkroom.tests.iter().collect();
        tests.sort_by_key(|test| (test.date.value, test.span));
        let mut by_bath: BTreeMap<Span, Vec<_>> = BTreeMap::new();
        tests.into_iter().for_each(|test| by_bath.entry(test.bath.span).or_default().push(test));
        Tests(by_bath)
    }

    /// The newest test of a bath up to that day.
    pub(super) fn newest(&self, bath: Span, on: Date) -> Option<Cleared<'a>> {
        let tests = self.0.get(&bath)?;
        let by_then = tests.partition_point(|test| test.date.value <= on);
        tests.get(..by_then)?.last().copied().map(Cleared::of)
    }
}
