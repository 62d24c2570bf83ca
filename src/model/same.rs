//! Whether two steps are the same work, wherever each is written: spans have no part in it. A recipe
//! that is derived and changes nothing is found so, and one that is pushed on unchanged times.

use std::sync::Arc;

use super::agitation::Scheme;
use super::bath::Bath;
use super::stated::Stated;
use super::step::{Duration, Step};

impl Duration {
    /// Whether it is the same time at the same temperatures.
    #[must_use]
    pub fn same_as(&self, other: &Duration) -> bool {
        match (self, other) {
            (Duration::Chart(one), Duration::Chart(two)) => {
                let pairs = || one.points().iter().zip(two.points());
                one.points().len() == two.points().len()
                    && pairs().all(|(a, b)| (a.temperature, a.time) == (b.temperature, b.time))
            }
            (one, two) => one == two,
        }
    }
}

impl Bath {
    /// Whether it is the same solution at the same strength, and the same becomes of it.
    #[must_use]
    pub fn same_as(&self, other: &Bath) -> bool {
        let solutions = match (&self.solution, &other.solution) {
            (Some(one), Some(two)) => Arc::ptr_eq(one, two),
            (None, None) => true,
            (Some(_), None) | (None, Some(_)) => false,
        };
        solutions && self.dilution == other.dilution && self.fate == other.fate
    }
}

impl Scheme {
    /// Whether the film moves in the same way at the same times.
    #[must_use]
    pub fn same_as(&self, other: &Scheme) -> bool {
        (&self.pulse, self.by, self.inversion, self.knock, &self.notes)
            == (&other.pulse, other.by, other.inversion, other.knock, &other.notes)
    }
}

impl Step {
    /// Whether it is the same work, said with the same remarks.
    #[must_use]
    pub fn same_as(&self, other: &Step) -> bool {
        let baths = both(self.bath.as_ref(), other.bath.as_ref(), Bath::same_as);
        let moved =
            both(self.agitation.as_ref(), other.agitation.as_ref(), |one, two| one.value.same_as(&two.value));
        let light = |step: &Step| (step.light_safe.is_some(), value(step.light.as_ref()).cloned());
        let own = |step: &Step| (value(step.band.as_ref()).copied(), value(step.at.as_ref()).copied());
        let clock = |step: &Step| {
            let time = |stated: Option<&Stated<_>>| value(stated).copied();
            let times = [&step.handling, &step.fill, &step.drain].map(|stated| time(stated.as_ref()));
            (times, step.clock.value)
        };
        (self.kind, &self.name, &self.notes, &self.cautions)
            == (other.kind, &other.name, &other.notes, &other.cautions)
            && baths
            && moved
            && self.duration.value.same_as(&other.duration.value)
            && light(self) == light(other)
            && own(self) == own(other)
            && clock(self) == clock(other)
    }
}

fn value<T>(stated: Option<&Stated<T>>) -> Option<&T> {
    stated.map(|stated| &stated.value)
}

fn both<T>(one: Option<&T>, two: Option<&T>, same: impl FnOnce(&T, &T) -> bool) -> bool {
    match (one, two) {
        (Some(one), Some(two)) => same(one, two),
        (None, None) => true,
        (Some(_), None) | (None, Some(_)) => false,
    }
}
