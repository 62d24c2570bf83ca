//! How a bottle stands on a day: what it has treated, what is left in it, how old it is, what its newest
//! test says, and what that comes to. Nothing of it is stored; the day is given.

use std::sync::Arc;

use super::capacity::Capacity;
use super::clearing::Cleared;
use super::count::{treated_by, treated_each_by};
use crate::model::{Darkroom, Date, KeptBath};

/// A bottle on a day.
#[derive(Debug, Clone)]
pub struct Standing<'a> {
    /// The bottle.
    pub bath: &'a Arc<KeptBath>,
    /// The day.
    pub on: Date,
    /// The film it has treated up to and on that day, in twelfths of a roll.
    pub treated: i64,
    /// How far it goes; `None` where its solution does not say.
    pub capacity: Option<Capacity>,
    /// The last day it keeps; `None` where its solution does not say.
    pub keeps_until: Option<Date>,
    /// Its newest clearing test up to that day.
    pub cleared: Option<Cleared<'a>>,
}

/// What the state of a bottle comes to: the first of these that is so.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Verdict {
    /// It was poured away.
    Discarded,
    /// It clears in twice the fresh time or more.
    ClearsTooSlowly,
    /// It has treated all that it goes for.
    Spent,
    /// It is older than it keeps.
    PastKeeping,
    /// It has treated nine tenths of what it goes for, or more.
    NearlySpent,
    /// Nothing speaks against it.
    Good,
}

impl<'a> Standing<'a> {
    /// The bottle as it stands on that day.
    #[must_use]
    pub fn of(darkroom: &'a Darkroom, bath: &'a Arc<KeptBath>, on: Date) -> Standing<'a> {
        Standing::counted(bath, on, treated_by(darkroom, bath, on), Cleared::newest(darkroom, bath, on))
    }

    /// Every bottle as it stands on that day, in the order of files and lines. Sessions and tests are gone through
    /// once, and not once for each bottle.
    #[must_use]
    pub fn all(darkroom: &'a Darkroom, on: Date) -> Vec<Standing<'a>> {
        let (treated, cleared) = (treated_each_by(darkroom, on), Cleared::newest_each(darkroom, on));
        let standing = |bath: &'a Arc<KeptBath>| {
            let treated = treated.get(&bath.span).copied().unwrap_or(0);
            Standing::counted(bath, on, treated, cleared.get(&bath.span).copied())
        };
        darkroom.bottles().map(standing).collect()
    }

    fn counted(
        bath: &'a Arc<KeptBath>,
        on: Date,
        treated: i64,
        cleared: Option<Cleared<'a>>,
    ) -> Standing<'a> {
        let capacity = Capacity::of(&bath.solution, &bath.dilution, bath.volume.value);
        let keeps_until = bath.solution.keeps.map(|keeps| bath.mixed.value.keeps_until(keeps.value));
        Standing { bath, on, treated, capacity, keeps_until, cleared }
    }

    /// Whether it was made by that day.
    #[must_use]
    pub fn is_made(&self) -> bool {
        self.bath.mixed.value <= self.on
    }

    /// Whether it was poured away by that day.
    #[must_use]
    pub fn is_discarded(&self) -> bool {
        self.bath.discarded.is_some_and(|discarded| discarded.value <= self.on)
    }

    /// Whether it has treated all that it goes for.
    #[must_use]
    pub fn is_spent(&self) -> bool {
        self.capacity.is_some_and(|capacity| capacity.is_used_up_by(self.treated))
    }

    /// Whether it is older than it keeps; on the last day it is not.
    #[must_use]
    pub fn is_past_keeping(&self) -> bool {
        self.keeps_until.is_some_and(|until| until < self.on)
    }

    /// Whether it clears in twice the fresh time, or more.
    #[must_use]
    pub fn clears_too_slowly(&self) -> bool {
        self.cleared.is_some_and(Cleared::has_doubled)
    }

    /// Its age in days.
    #[must_use]
    pub fn age(&self) -> i64 {
        self.bath.mixed.value.days_until(self.on)
    }

    /// The film that it still does for, in whole twelfths of a roll, once it has treated so much more; 0 where
    /// nothing is left. `None` where its solution does not say how far it goes.
    #[must_use]
    pub fn left_after(&self, more: i64) -> Option<i64> {
        let all = self.capacity?.twelfths();
        Some(all.saturating_sub(self.treated.saturating_add(more)).max(0))
    }

    /// What all of it comes to.
    #[must_use]
    pub fn verdict(&self) -> Verdict {
        let nearly = self.capacity.is_some_and(|capacity| capacity.is_nearly_used_up_by(self.treated));
        let grounds = [
            (self.is_discarded(), Verdict::Discarded),
            (self.clears_too_slowly(), Verdict::ClearsTooSlowly),
            (self.is_spent(), Verdict::Spent),
            (self.is_past_keeping(), Verdict::PastKeeping),
            (nearly, Verdict::NearlySpent),
        ];
        grounds.into_iter().find(|(is_so, _)| *is_so).map_or(Verdict::Good, |(_, verdict)| verdict)
    }
}

impl Verdict {
    /// The verdict in words.
    #[must_use]
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
