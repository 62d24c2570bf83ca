//! One statement being read: where the reader stands, what it has, and what it has told.

use super::cursor::Cursor;
use super::reading::Item;
use crate::source::Diagnostic;
use crate::vocabulary::Row;

/// One statement being read.
pub(super) struct Reader<'a, 'f> {
    pub(super) cursor: Cursor<'a>,
    pub(super) row: &'static Row,
    pub(super) items: Vec<Item>,
    pub(super) faults: &'f mut Vec<Diagnostic>,
}

/// The statement is at fault and the fault is told; there is no reading on.
#[derive(Debug, Clone, Copy)]
pub(super) struct Told;

impl Reader<'_, '_> {
    /// Puts a fault on the list.
    pub(super) fn tell(&mut self, fault: Diagnostic) -> Told {
        self.faults.push(fault);
        Told
    }
}
