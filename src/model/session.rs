//! An evening as it was done. It names a recipe and a tank as they were then, which the shelf of today
//! may have no longer; bottles and rolls it names as they stand, since what is left of them hangs on it.

use std::sync::Arc;

use super::Date;
use super::backlog::Backlog;
use super::bath::KeptBath;
use super::format::Format;
use super::quantity::{Temperature, Volume};
use super::stated::Stated;
use super::step::StepKind;
use crate::source::Span;

/// What was done: `session evening-1 { … }`.
#[derive(Debug, Clone)]
pub struct Session {
    /// Its name as declared.
    pub name: String,
    /// Its declaration's header.
    pub span: Span,
    /// The whole declaration, header and block.
    pub extent: Span,
    /// The day.
    pub date: Stated<Date>,
    /// The recipe's name on that day.
    pub recipe: Stated<String>,
    /// The fingerprint of what was followed, eight hexadecimal digits.
    pub fingerprint: String,
    /// The revision of git that it stood in.
    pub revision: Option<String>,
    /// The tank's name on that day.
    pub tank: Option<String>,
    /// The temperature it was compiled for.
    pub at: Option<Temperature>,
    /// What the baths were expected to end at.
    pub ending: Option<Temperature>,
    /// The steps that it had another temperature for.
    pub steps: Vec<StepAt>,
    /// What the tank was filled with, where that was asked for.
    pub volume: Option<Volume>,
    /// The backlog that its labels are of.
    pub backlog: Option<Arc<Backlog>>,
    /// What was in the tank, from the bottom up.
    pub slots: Vec<Slot>,
    /// The bottles that were poured from and into.
    pub baths: Vec<Stated<Arc<KeptBath>>>,
    /// Remarks.
    pub notes: Vec<String>,
    /// Where it was taken back, and why.
    pub retracted: Option<Stated<String>>,
}

/// A step with a temperature of its own.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct StepAt {
    /// The kind of step.
    pub kind: StepKind,
    /// Its name in the recipe, where it had one.
    pub name: Option<String>,
    /// How warm it was to be.
    pub temperature: Temperature,
    /// Where it says so.
    pub span: Span,
}

/// One place in the tank.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Slot {
    /// Which, from the bottom, from 1.
    pub slot: u32,
    /// The roll's label.
    pub label: Option<String>,
    /// Its format.
    pub format: Format,
    /// Where it says so.
    pub span: Span,
}

impl Session {
    /// The film of it in twelfths of a roll (R12).
    #[must_use]
    pub fn twelfths(&self) -> i64 {
        self.slots.iter().map(|slot| i64::from(slot.format.twelfths())).sum()
    }
}
