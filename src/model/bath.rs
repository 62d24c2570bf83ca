//! A solution at work: at a strength, used once or kept.

use std::sync::Arc;

use super::dilution::Dilution;
use super::solution::Solution;
use crate::source::Span;

/// What stands in `in …`.
#[derive(Debug, Clone)]
pub struct Bath {
    /// The solution; `None` for water.
    pub solution: Option<Arc<Solution>>,
    /// Its strength; as stock for water.
    pub dilution: Dilution,
    /// What becomes of it; `None` where the recipe does not say.
    pub fate: Option<Use>,
    /// Where it says so.
    pub span: Span,
}

/// What becomes of a bath afterwards.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Use {
    /// Poured away.
    OneShot,
    /// Back into its bottle until it is spent.
    Reused,
    /// Back into its bottle, and topped up.
    Replenished,
}

impl Use {
    /// The word a recipe has for it.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Use::OneShot => "one-shot",
            Use::Reused => "reused",
            Use::Replenished => "replenished",
        }
    }
}
