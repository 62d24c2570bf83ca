//! What the newest clearing test of a bath says (R11), against what its film says of a fresh one.

use std::collections::BTreeMap;
use std::sync::Arc;

use crate::model::{Clearing, ClearingTest, Darkroom, Date, Film, KeptBath};
use crate::source::Span;

/// The newest test of a bath.
#[derive(Debug, Clone, Copy)]
pub struct Cleared<'a> {
    /// The test.
    pub test: &'a Arc<ClearingTest>,
    /// How fast its film clears in the same when that is fresh, where the film says so.
    pub fresh: Option<&'a Clearing>,
}

impl<'a> Cleared<'a> {
    /// The newest test up to that day; of several on one day the last in the order of files and lines.
    #[must_use]
    pub fn newest(darkroom: &'a Darkroom, bath: &KeptBath, on: Date) -> Option<Cleared<'a>> {
        let of_it =
            |test: &&Arc<ClearingTest>| std::ptr::eq(Arc::as_ptr(&test.bath), bath) && test.date.value <= on;
        let newest = darkroom.tests.iter().filter(of_it).max_by_key(|test| (test.date.value, test.span));
        newest.map(Cleared::of)
    }

    /// The newest test of each bath up to that day, by the bath's declaration; each test is looked at once.
    #[must_use]
    pub(super) fn newest_each(darkroom: &'a Darkroom, on: Date) -> BTreeMap<Span, Cleared<'a>> {
        let mut tests: Vec<&Arc<ClearingTest>> =
            darkroom.tests.iter().filter(|test| test.date.value <= on).collect();
        tests.sort_by_key(|test| (test.date.value, test.span));
        tests.into_iter().map(|test| (test.bath.span, Cleared::of(test))).collect()
    }

    /// What one test says.
    #[must_use]
    pub fn of(test: &'a Arc<ClearingTest>) -> Cleared<'a> {
        Cleared { test, fresh: fresh(&test.film, &test.bath) }
    }

    /// Whether it takes less than twice the time of a fresh bath; not so where the film does not say that time.
    #[must_use]
    pub fn still_clears(self) -> bool {
        self.fresh.is_some() && !self.has_doubled()
    }

    /// Whether it takes twice the time of a fresh bath, or more: it is exhausted then (NAVEDTRA 14209,
    /// Photography (Basic), chapter 10).
    #[must_use]
    pub fn has_doubled(self) -> bool {
        self.fresh.is_some_and(|fresh| self.test.time.value >= fresh.time.times(2))
    }
}

/// How fast a film clears in a fresh bath of that solution and strength.
fn fresh<'a>(film: &'a Film, bath: &KeptBath) -> Option<&'a Clearing> {
    film.clears.iter().find(|row| Arc::ptr_eq(&row.solution, &bath.solution) && row.dilution == bath.dilution)
}
