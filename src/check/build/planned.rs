//! Checks planned sessions: statements that they cannot have, and rolls that are planned twice.

use std::collections::BTreeMap;

use super::super::error;
use super::contradictions::not_in_backlog;
use super::{Builder, Key};
use crate::model::Darkroom;
use crate::source::{Span, clip};
use crate::vocabulary::{Lines as _, Reading, say};

impl Builder<'_> {
    pub(super) fn is_planned(&self, Key { file, at }: Key) -> bool {
        let reading = self.units.get(&file).and_then(|unit| unit.readings.get(at));
        reading.is_some_and(|reading| reading.one::<say::Planned>().is_some())
    }

    /// Reports statements that a planned session cannot have, because they record what happened on the evening.
    pub(super) fn is_only_planned(&mut self, reading: &Reading) {
        for row in reading.lines().filter(|row| !can_be_planned(row)) {
            let word = row.row.word;
            let help = if row.is::<say::SessionAt>()
                || row.is::<say::Ending>()
                || row.is::<say::SessionStep>()
            {
                "remove this line: the temperature is read on the evening, and given to the card with --at"
            } else {
                "remove this line, or remove 'planned' if the session was done"
            };
            self.error(
                "not-planned",
                row.span,
                format!("'{word}' does not belong in a planned session"),
                help,
            );
        }
        for slot in reading.each::<say::Loaded>().filter(|row| row.doubt().is_some()) {
            let message = "a planned session cannot be in doubt";
            self.error("not-planned", slot.span, message, "correct the line, and remove the doubt");
        }
    }

    /// Reports each roll of a planned session that its backlog lacks or that is planned twice. Planned sessions that
    /// were done or retracted are skipped.
    pub(super) fn planned_rolls(&mut self, darkroom: &Darkroom) {
        let mut known: BTreeMap<(Span, &str), (Span, &str)> = BTreeMap::new();
        for session in darkroom.to_do() {
            let Some(backlog) = &session.backlog else { continue };
            for slot in &session.slots {
                self.faults.extend(not_in_backlog(slot, backlog));
                let Some(label) = slot.label.as_deref() else { continue };
                let own = (slot.span, session.name.as_str());
                let first = *known.entry((backlog.span, label)).or_insert(own);
                if first != own {
                    let fault = error(
                        "planned-twice",
                        slot.span,
                        format!("the roll '{}' is already planned, in '{}'", clip(label), first.1),
                        format!(
                            "remove it from one of the two sessions, or retract the first: retract {} because \"…\"",
                            first.1
                        ),
                    );
                    self.report(fault.other(first.0, "planned here"));
                }
            }
        }
    }
}

fn can_be_planned(row: &Reading) -> bool {
    row.is::<say::Planned>()
        || row.is::<say::SessionRecipe>()
        || row.is::<say::Revision>()
        || row.is::<say::SessionTank>()
        || row.is::<say::SessionVolume>()
        || row.is::<say::SessionBacklog>()
        || row.is::<say::Loaded>()
        || row.is::<say::SessionBath>()
        || row.is::<say::Note>()
        || row.is::<say::Caution>()
        || row.is::<say::Allow>()
}
