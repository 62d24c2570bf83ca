//! The darkroom during a plan: which bottle each load uses, and when a bath is mixed. It adds sessions for the evenings to
//! come, so that the journal counts them.

use std::sync::Arc;

use super::bath::{Kept, MixedAgain};
use crate::journal::{Standing, Verdict, treated};
use crate::model::{Date, Format, KeptBath, Session, Shelf, Slot, Stated};
use crate::source::{FileId, Span};

/// The file of the baths that the plan mixes.
const NO_FILE: FileId = FileId(u32::MAX);

/// A darkroom in the days to come.
#[derive(Debug)]
pub(super) struct Ahead {
    pub(super) shelf: Shelf,
    made: u32,
}

impl Ahead {
    pub(super) fn of(shelf: &Shelf) -> Ahead {
        Ahead { shelf: shelf.clone(), made: 0 }
    }

    /// Whether the plan mixed a bottle.
    pub(super) fn is_mixed_here(bottle: &KeptBath) -> bool {
        bottle.span.file == NO_FILE
    }

    /// The bottle for this much film on that day: of those that can treat it, the one that was mixed first.
    pub(super) fn bottle(&self, kept: &Kept, on: Date, film: i64) -> Option<Arc<KeptBath>> {
        let darkroom = &self.shelf.darkroom;
        let treats = |bottle: &&Arc<KeptBath>| {
            let standing = Standing::of(darkroom, bottle, on);
            let holds = |film| standing.capacity.is_none_or(|capacity| capacity.holds(film));
            standing.is_made()
                && matches!(standing.verdict(), Verdict::Good | Verdict::NearlySpent)
                && holds(treated(darkroom, bottle, Date::MAX) + film)
        };
        // The count reads all sessions, so it comes after the cheaper filter.
        let could = |bottle: &&Arc<KeptBath>| kept.is_in(bottle) && kept.volume <= bottle.volume.value;
        darkroom
            .bottles()
            .filter(could)
            .filter(treats)
            .min_by_key(|bottle| (bottle.mixed.value, bottle.span))
            .map(Arc::clone)
    }

    /// Mixes a bath on that day. It replaces the one that the plan mixed before and says why.
    pub(super) fn mix(&mut self, kept: &Kept, on: Date) -> (Arc<KeptBath>, Option<MixedAgain>) {
        let darkroom = &mut self.shelf.darkroom;
        let is_before = |bottle: &&Arc<KeptBath>| Ahead::is_mixed_here(bottle) && kept.is_in(bottle);
        let before = darkroom.bottles().find(is_before).cloned();
        let because = before.map(|before| {
            let standing = Standing::of(darkroom, &before, on);
            let until = standing.keeps_until.filter(|until| *until < on);
            darkroom.baths.retain(|(_, _, bottle)| !Arc::ptr_eq(bottle, &before));
            darkroom.sessions.retain(|session| !is_of(session, &before));
            until.map_or(MixedAgain::Spent, MixedAgain::PastKeeping)
        });
        let span = Span { file: NO_FILE, start: self.made, end: self.made };
        self.made = self.made.saturating_add(1);
        let bottle = Arc::new(KeptBath {
            name: String::new(),
            title: kept.solution.title.clone(),
            span,
            solution: Arc::clone(&kept.solution),
            dilution: kept.dilution.clone(),
            volume: Stated::new(kept.volume, span),
            mixed: Stated::new(on, span),
            discarded: None,
        });
        darkroom.baths.push((NO_FILE, String::new(), Arc::clone(&bottle)));
        (bottle, because)
    }

    /// Records that a bottle treats film. Each bottle has one session, which grows.
    pub(super) fn record(&mut self, bottle: &Arc<KeptBath>, on: Date, film: &[Format]) {
        let slots =
            film.iter().map(|format| Slot { slot: 0, label: None, format: *format, span: bottle.span });
        let own = |session: &&mut Arc<Session>| session.span.file == NO_FILE && is_of(session, bottle);
        if let Some(session) = self.shelf.darkroom.sessions.iter_mut().find(own) {
            Arc::make_mut(session).slots.extend(slots);
            return;
        }
        let span = Span { file: NO_FILE, ..bottle.span };
        self.shelf.darkroom.sessions.push(Arc::new(Session {
            name: String::new(),
            span,
            date: Stated::new(on, span),
            backlog: None,
            slots: slots.collect(),
            baths: vec![Stated::new(Arc::clone(bottle), span)],
            retracted: None,
        }));
    }
}

fn is_of(session: &Session, bottle: &Arc<KeptBath>) -> bool {
    session.baths.iter().any(|named| Arc::ptr_eq(&named.value, bottle))
}
