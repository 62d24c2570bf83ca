//! A darkroom as the loads of a plan go through it, one after the other: which bottle each is poured from, and
//! when a bath is made. It is counted as the journal counts, from evenings that are still to come.

use std::sync::Arc;

use super::bath::Anew;
use super::kept::Kept;
use crate::journal::{Standing, Verdict, treated};
use crate::model::{Date, Format, KeptBath, Session, Shelf, Slot, Stated};
use crate::source::{FileId, Span};

/// What is made on the way is declared in no file.
const NO_FILE: FileId = FileId(u32::MAX);

/// The darkroom of the days to come.
#[derive(Debug)]
pub(super) struct Ahead {
    pub(super) shelf: Shelf,
    made: u32,
}

impl Ahead {
    pub(super) fn of(shelf: &Shelf) -> Ahead {
        Ahead { shelf: shelf.clone(), made: 0 }
    }

    /// Whether a bottle was made on the way.
    pub(super) fn is_made_here(bottle: &KeptBath) -> bool {
        bottle.span.file == NO_FILE
    }

    /// The bottle that so much film goes through on that day: of those that still do, the one that was made first, so
    /// that what is begun is used up.
    pub(super) fn bottle(&self, kept: &Kept, on: Date, film: i64) -> Option<Arc<KeptBath>> {
        let darkroom = &self.shelf.darkroom;
        let does = |bottle: &&Arc<KeptBath>| {
            let standing = Standing::of(darkroom, bottle, on);
            let holds = |film| standing.capacity.is_none_or(|capacity| capacity.holds(film));
            standing.is_made()
                && matches!(standing.verdict(), Verdict::Good | Verdict::NearlySpent)
                && holds(treated(darkroom, bottle, Date::MAX) + film)
        };
        // What a bottle has treated is counted over all sessions, so only of those that could do.
        let could = |bottle: &&Arc<KeptBath>| kept.is_in(bottle) && kept.volume <= bottle.volume.value;
        darkroom
            .bottles()
            .filter(could)
            .filter(does)
            .min_by_key(|bottle| (bottle.mixed.value, bottle.span))
            .map(Arc::clone)
    }

    /// Makes a bath on that day, in the place of the one that was made on the way before, and says what became of
    /// that.
    pub(super) fn make(&mut self, kept: &Kept, on: Date) -> (Arc<KeptBath>, Option<Anew>) {
        let darkroom = &mut self.shelf.darkroom;
        let before =
            darkroom.bottles().find(|bottle| Ahead::is_made_here(bottle) && kept.is_in(bottle)).cloned();
        let because = before.as_ref().map(|before| {
            let standing = Standing::of(darkroom, before, on);
            let until = standing.keeps_until.filter(|_| standing.is_past_keeping());
            until.map_or(Anew::Spent, Anew::PastKeeping)
        });
        if let Some(before) = before {
            darkroom.baths.retain(|(_, _, bottle)| !Arc::ptr_eq(bottle, &before));
            darkroom.sessions.retain(|session| !is_of(session, &before));
        }
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
            notes: Vec::new(),
            cautions: Vec::new(),
        });
        darkroom.baths.push((NO_FILE, String::new(), Arc::clone(&bottle)));
        (bottle, because)
    }

    /// Sends film through a bottle: one evening for each bottle, which grows.
    pub(super) fn send(&mut self, bottle: &Arc<KeptBath>, on: Date, film: &[Format]) {
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
            extent: span,
            date: Stated::new(on, span),
            recipe: Stated::new(String::new(), span),
            fingerprint: String::new(),
            revision: None,
            tank: None,
            at: None,
            ending: None,
            steps: Vec::new(),
            volume: None,
            backlog: None,
            slots: slots.collect(),
            baths: vec![Stated::new(Arc::clone(bottle), span)],
            notes: Vec::new(),
            retracted: None,
        }));
    }
}

fn is_of(session: &Session, bottle: &Arc<KeptBath>) -> bool {
    session.baths.iter().any(|named| Arc::ptr_eq(&named.value, bottle))
}
