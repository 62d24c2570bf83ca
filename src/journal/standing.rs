//! The state of a bottle on a day.

use std::collections::BTreeMap;
use std::sync::Arc;

use super::capacity::Capacity;
use super::clearing::{Cleared, Tests};
use super::usage::treated;
use crate::model::{Darkroom, Date, KeptBath};
use crate::source::Span;

/// A bottle on a day.
#[derive(Debug, Clone)]
pub struct Standing<'a> {
    /// The bottle.
    pub bath: &'a Arc<KeptBath>,
    /// The day.
    pub on: Date,
    /// The film it has treated by the end of that day, in twelfths of a roll.
    pub treated: i64,
    /// `None` if its solution does not state it.
    pub capacity: Option<Capacity>,
    /// The last day it keeps; `None` if its solution does not state it.
    pub keeps_until: Option<Date>,
    /// Its newest clearing test up to that day.
    pub cleared: Option<Cleared<'a>>,
}

/// The verdict on a bottle: the first of these that applies.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Verdict {
    /// It was poured away.
    Discarded,
    /// It clears in twice the fresh time or more.
    ClearsTooSlowly,
    /// It has treated all of its capacity.
    Spent,
    /// It is older than it keeps.
    PastKeeping,
    /// It has treated nine tenths of its capacity or more.
    NearlySpent,
    /// None of these.
    Good,
}

impl<'a> Standing<'a> {
    /// The bottle on that day.
    pub fn of(darkroom: &'a Darkroom, bath: &'a Arc<KeptBath>, on: Date) -> Standing<'a> {
        let tests =
            darkroom.tests.iter().filter(|test| Arc::ptr_eq(&test.bath, bath) && test.date.value <= on);
        let newest = tests.max_by_key(|test| (test.date.value, test.span));
        Standing::new(bath, on, treated(darkroom, bath, on), newest.map(Cleared::of))
    }

    /// Every bottle on that day, in the order of files and lines. It reads each session and test once.
    pub fn all(darkroom: &'a Darkroom, on: Date) -> Vec<Standing<'a>> {
        let mut treated: BTreeMap<Span, i64> = BTreeMap::new();
        for session in darkroom.standing().filter(|session| session.date.value <= on) {
            for named in &session.baths {
                let treated = treated.entry(named.value.span).or_default();
                *treated = treated.saturating_add(session.twelfths());
            }
        }
        let tests = Tests::of(darkroom);
        let standing = |bath: &'a Arc<KeptBath>| {
            let treated = treated.get(&bath.span).copied().unwrap_or(0);
            Standing::new(bath, on, treated, tests.newest(bath.span, on))
        };
        darkroom.bottles().map(standing).collect()
    }

    fn new(bath: &'a Arc<KeptBath>, on: Date, treated: i64, cleared: Option<Cleared<'a>>) -> Standing<'a> {
        let keeps_until = bath.solution.keeps.map(|keeps| bath.mixed.value.keeps_until(keeps.value));
        let capacity = Capacity::of_bath(bath);
        Standing { bath, on, treated, capacity, keeps_until, cleared }
    }

    /// Whether it was mixed by that day.
    pub fn is_made(&self) -> bool {
        self.bath.mixed.value <= self.on
    }

    /// Whether it was poured away by that day.
    pub fn is_discarded(&self) -> bool {
        self.bath.discarded.is_some_and(|discarded| discarded.value <= self.on)
    }

    /// Whether it has treated all of its capacity.
    pub fn is_spent(&self) -> bool {
        self.capacity.is_some_and(|capacity| capacity.is_used_up_by(self.treated))
    }

    /// Whether it is older than it keeps; false on its last day.
    pub fn is_past_keeping(&self) -> bool {
        self.keeps_until.is_some_and(|until| until < self.on)
    }

    /// Whether it clears in twice the fresh time or more.
    pub fn clears_too_slowly(&self) -> bool {
        self.cleared.is_some_and(Cleared::has_doubled)
    }

    /// Its age in days; negative before it is mixed.
    pub fn age(&self) -> i64 {
        self.bath.mixed.value.days_until(self.on)
    }

    /// The film it can still treat after this much more, in whole twelfths of a roll, at least 0. `None` if its
    /// solution does not state its capacity.
    pub fn left_after(&self, more: i64) -> Option<i64> {
        let all = self.capacity?.twelfths();
        Some(all.saturating_sub(self.treated.saturating_add(more)).max(0))
    }

    /// The verdict.
    pub fn verdict(&self) -> Verdict {
        let nearly = self.capacity.is_some_and(|capacity| capacity.is_nearly_used_up_by(self.treated));
        let grounds = [
            (self.is_discarded(), Verdict::Discarded),
            (self.clears_too_slowly(), Verdict::ClearsTooSlowly),
            (self.is_spent(), Verdict::Spent),
            (self.is_past_keeping(), Verdict::PastKeeping),
            (nearly, Verdict::NearlySpent),
        ];
        grounds.into_iter().find(|(applies, _)| *applies).map_or(Verdict::Good, |(_, verdict)| verdict)
    }
}

impl Verdict {
    /// The verdict in words.
    pub fn words(self) -> &'static str {
        match self {
            Verdict::Discarded => "poured away",
            Verdict::ClearsTooSlowly => "spent: it clears in twice the fresh time",
            Verdict::Spent => "spent",
            Verdict::PastKeeping => "past keeping",
            Verdict::NearlySpent => "nearly spent",
            Verdict::Good => "good",
        }
    }
}
