//! Counts over the sessions that stand.

use std::collections::BTreeMap;
use std::sync::Arc;

use crate::model::{Backlog, Darkroom, Date, KeptBath, Session};
use crate::source::Span;

/// The film that a bath has treated, in twelfths of a roll (R12): of each session that names it, all of it.
#[must_use]
pub fn treated(darkroom: &Darkroom, bath: &Arc<KeptBath>) -> i64 {
    treated_by(darkroom, bath, Date::MAX)
}

/// The same by the end of that day.
#[must_use]
pub fn treated_by(darkroom: &Darkroom, bath: &Arc<KeptBath>, on: Date) -> i64 {
    let names_it =
        |session: &&Arc<Session>| session.baths.iter().any(|named| Arc::ptr_eq(&named.value, bath));
    let by_then = |session: &&Arc<Session>| session.date.value <= on;
    darkroom.standing().filter(by_then).filter(names_it).map(|session| session.twelfths()).sum()
}

/// What each bath has treated by the end of that day, by its declaration; each session is looked at once. A bath that
/// no session names is not there.
#[must_use]
pub(super) fn treated_each_by(darkroom: &Darkroom, on: Date) -> BTreeMap<Span, i64> {
    let mut all: BTreeMap<Span, i64> = BTreeMap::new();
    for session in darkroom.standing().filter(|session| session.date.value <= on) {
        for named in &session.baths {
            let treated = all.entry(named.value.span).or_default();
            *treated = treated.saturating_add(session.twelfths());
        }
    }
    all
}

/// The rolls of a backlog that are developed, by their labels, each with its session.
#[must_use]
pub fn developed<'a>(darkroom: &'a Darkroom, backlog: &Arc<Backlog>) -> BTreeMap<&'a str, &'a Arc<Session>> {
    let of_it =
        |session: &&Arc<Session>| session.backlog.as_ref().is_some_and(|named| Arc::ptr_eq(named, backlog));
    let labels = |session: &'a Arc<Session>| {
        session.slots.iter().filter_map(move |slot| Some((slot.label.as_deref()?, session)))
    };
    darkroom.standing().filter(of_it).flat_map(labels).collect()
}
