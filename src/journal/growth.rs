//! How the clearing time in a bottle grows from one evening to the next (R11).

use std::fmt::{self, Display, Formatter};
use std::sync::Arc;

use super::APART_MAX;
use crate::model::{Darkroom, Date, KeptBath, Role, Session, Temperature, Time};
use crate::source::Sorted as _;

/// The clearing time of a piece of film in a bottle on a day.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct ClearedOn {
    /// The day.
    pub date: Date,
    /// The clearing time.
    pub time: Time,
    /// The temperature of the bath.
    pub at: Temperature,
}

/// Clearing times in a bottle that grow from one evening to the next, in the order of the days.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Growth(Vec<ClearedOn>);

impl Growth {
    /// The clearing times in a bottle up to a day, if they grow. `tonight` is the clearing time of an evening that the
    /// journal does not have yet, with the name of that evening's recipe.
    ///
    /// Only evenings with the recipe of the newest time count, because another film clears in another time. Of these,
    /// only evenings within 2 °C of the newest temperature count, because a warmer fixer clears faster. A person sees
    /// the moment of clearing only to about a tenth of the time. So times grow if none is shorter than the one before,
    /// and the newest is longer than the first by at least a quarter; by at least a half, if there are only two (common
    /// practice, no source).
    pub fn of(
        darkroom: &Darkroom,
        bath: &Arc<KeptBath>,
        on: Date,
        tonight: Option<(ClearedOn, &String)>,
    ) -> Option<Growth> {
        let by_then = darkroom.standing().filter(|session| *session.date <= on);
        let mut known: Vec<(ClearedOn, &String)> =
            by_then.filter_map(|session| Some((cleared(session, bath)?, &session.recipe))).collect();
        known.order_by_key(|(cleared, _)| cleared.date);
        known.extend(tonight);
        let (newest, recipe) = *known.last()?;
        let is_like =
            |(one, of): &(ClearedOn, &String)| *of == recipe && one.at.apart(newest.at) <= APART_MAX;
        let times: Vec<ClearedOn> = known.into_iter().filter(is_like).map(|(cleared, _)| cleared).collect();
        let first = times.first()?.time;
        let by_a_quarter = newest.time.times(4) >= first.times(5);
        let by_a_half = newest.time.times(2) >= first.times(3);
        let grows = match times.len() {
            0 | 1 => false,
            2 => by_a_half,
            _ => by_a_quarter,
        };
        (grows && times.is_sorted_by_key(|cleared| cleared.time)).then_some(Growth(times))
    }

    /// Whether the newest time is at least twice the first. The bath is then exhausted, if it was fresh at the first
    /// time (US Navy, Photography (Basic), NAVEDTRA 14209, 1993, chapter 10).
    pub fn has_doubled(&self) -> bool {
        let times = self.0.first().zip(self.0.last());
        times.is_some_and(|(first, newest)| newest.time >= first.time.times(2))
    }
}

impl Growth {
    /// The clearing times, in the order of the days.
    pub fn times(&self) -> &[ClearedOn] {
        &self.0
    }

    /// What the growth means for the bath, in words.
    pub fn verdict(&self) -> &'static str {
        if self.has_doubled() { "it is exhausted: mix a new bath" } else { "it wears out" }
    }
}

/// The most clearing times that are listed, including the first one, which is always listed.
const LISTED_MAX: usize = 4;

impl Display for Growth {
    /// Writes the clearing times, such as `0:40 on 2026-11-02, 0:50 on 2026-11-09, 1:05 on 2026-11-16`.
    fn fmt(&self, out: &mut Formatter<'_>) -> fmt::Result {
        let skipped = self.0.len().saturating_sub(LISTED_MAX);
        let listed = self.0.iter().take(1).chain(self.0.iter().skip(1 + skipped));
        for (at, ClearedOn { date, time, .. }) in listed.enumerate() {
            out.write_str(match (at, skipped) {
                (0, _) => "",
                (1, 1..) => ", … ",
                _ => ", ",
            })?;
            write!(out, "{time} on {date}")?;
        }
        Ok(())
    }
}

/// The clearing time that a session measured in a bottle. A session does not say which bottle was tested, so `None`
/// unless this bottle was its only fixer.
fn cleared(session: &Session, bath: &Arc<KeptBath>) -> Option<ClearedOn> {
    let fixes = |bath: &KeptBath| matches!(bath.solution.role, Some(Role::Fixer | Role::BleachFix));
    let mut fixers = session.baths.iter().filter(|used| !used.is_second && fixes(&used.bath));
    let (only, none) = (fixers.next()?, fixers.next());
    let is_it = none.is_none() && Arc::ptr_eq(&only.bath, bath);
    let cleared = session.cleared.first().filter(|_| is_it)?;
    Some(ClearedOn { date: *session.date, time: cleared.time, at: session.at? })
}
