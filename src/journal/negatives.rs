//! What the darkroom knows of the negatives with a label: the roll in its backlog, and the sessions that developed it.

use std::sync::Arc;

use crate::model::{Backlog, Darkroom, Exposed, Session, Slot};
use crate::source::Sorted as _;

/// The negatives of one roll.
#[derive(Debug)]
pub struct Negatives<'a> {
    /// The label.
    pub label: &'a str,
    /// The backlog that has the roll, and the roll; `None` if only sessions name the label.
    pub declared: Option<(&'a Arc<Backlog>, &'a Exposed)>,
    /// The sessions that developed the roll, by day, each with the roll's place in the tank; retracted ones too.
    pub sessions: Vec<(&'a Arc<Session>, &'a Slot)>,
}

impl<'a> Negatives<'a> {
    /// The negatives of every roll with this label. A session that names no backlog belongs to the only backlog with
    /// the label, if its format is the same; else to a roll without a backlog.
    pub fn of_label(darkroom: &'a Darkroom, label: &'a str) -> Vec<Negatives<'a>> {
        let backlogs = darkroom.backlogs_once();
        let declared = backlogs.filter_map(|backlog| Some((backlog, backlog.roll(label)?)));
        let new = |declared| Negatives { label, declared: Some(declared), sessions: Vec::new() };
        let mut all: Vec<Negatives<'a>> = declared.map(new).collect();
        let is_only = all.len() == 1;
        let mut alone = Negatives { label, declared: None, sessions: Vec::new() };
        for session in &darkroom.sessions {
            let slots = session.slots.iter().filter(|slot| slot.label.as_deref() == Some(label));
            for slot in slots {
                let is_own = |one: &&mut Negatives<'_>| match (&session.backlog, one.declared) {
                    (Some(named), Some((backlog, _))) => Arc::ptr_eq(named, backlog),
                    (None, Some((_, roll))) => is_only && roll.format == slot.format,
                    (_, None) => false,
                };
                all.iter_mut().find(is_own).unwrap_or(&mut alone).sessions.push((session, slot));
            }
        }
        all.extend((!alone.sessions.is_empty()).then_some(alone));
        for one in &mut all {
            one.sessions.order_by_key(|(session, _)| (*session.date, session.span));
        }
        all
    }
}
