//! The use of each bath by the sessions that are not retracted.

use std::collections::BTreeMap;
use std::sync::Arc;

use super::capacity::Capacity;
use super::clearing::{Cleared, Tests};
use crate::model::{Backlog, Darkroom, Date, KeptBath, Session};
use crate::source::Span;

/// One use of a bath.
#[derive(Debug, Clone)]
pub struct Usage<'a> {
    /// The bath.
    pub bath: &'a Arc<KeptBath>,
    /// The name in the session.
    pub span: Span,
    /// The day.
    pub on: Date,
    /// The film it had treated after that session, in twelfths of a roll.
    pub treated: i64,
    /// The day of its use before.
    pub before: Option<Date>,
    /// Its newest test up to that day.
    pub cleared: Option<Cleared<'a>>,
}

impl Usage<'_> {
    /// The bath's capacity; `None` if its solution does not state it.
    pub fn capacity(&self) -> Option<Capacity> {
        Capacity::of_bath(self.bath)
    }

    /// The last day the bath keeps; `None` if its solution does not state it.
    pub fn keeps_until(&self) -> Option<Date> {
        self.bath.solution.keeps.map(|keeps| self.bath.mixed.value.keeps_until(keeps.value))
    }

    /// Whether a test on that day or later found that the bath still clears.
    pub fn was_tested_since(&self, day: Date) -> bool {
        self.cleared.is_some_and(|cleared| day <= cleared.test.date.value && cleared.still_clears())
    }
}

/// All uses in the order of days, files and lines.
pub fn usages(darkroom: &Darkroom) -> Vec<Usage<'_>> {
    let mut sessions: Vec<&Arc<Session>> = darkroom.standing().collect();
    sessions.sort_by_key(|session| (session.date.value, session.span));
    let tests = Tests::of(darkroom);
    let mut known: BTreeMap<Span, (i64, Option<Date>)> = BTreeMap::new();
    let mut all = Vec::new();
    for session in sessions {
        let on = session.date.value;
        for named in &session.baths {
            let bath = &named.value;
            let (treated, before) = known.entry(bath.span).or_default();
            *treated = treated.saturating_add(session.twelfths());
            let cleared = tests.newest(bath.span, on);
            all.push(Usage { bath, span: named.span, on, treated: *treated, before: *before, cleared });
            *before = Some(on);
        }
    }
    all
}

/// The film that a bath has treated by the end of that day, in twelfths of a roll (R12): all film of each session that
/// names it.
pub fn treated(darkroom: &Darkroom, bath: &Arc<KeptBath>, on: Date) -> i64 {
    let names_it = |session: &&Arc<Session>| {
        session.date.value <= on && session.baths.iter().any(|named| Arc::ptr_eq(&named.value, bath))
    };
    darkroom.standing().filter(names_it).map(|session| session.twelfths()).sum()
}

/// The developed rolls of a backlog, by their labels, each with its session.
pub fn developed<'a>(darkroom: &'a Darkroom, backlog: &Arc<Backlog>) -> BTreeMap<&'a str, &'a Arc<Session>> {
    let of_it =
        |session: &&Arc<Session>| session.backlog.as_ref().is_some_and(|named| Arc::ptr_eq(named, backlog));
    let labels = |session: &'a Arc<Session>| {
        session.slots.iter().filter_map(move |slot| Some((slot.label.as_deref()?, session)))
    };
    darkroom.standing().filter(of_it).flat_map(labels).collect()
}
