//! A solution at work: at a strength, used once or kept.

use std::sync::Arc;

use super::Date;
use super::dilution::Dilution;
use super::quantity::Volume;
use super::solution::Solution;
use super::stated::Stated;
use super::words::words;
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

words! {
    /// What becomes of a bath afterwards.
    pub enum Use {
        /// Poured away.
        OneShot = "one-shot",
        /// Back into its bottle until it is spent.
        Reused = "reused",
        /// Back into its bottle, and topped up.
        Replenished = "replenished",
    }
}

/// A solution in its bottle, made up and kept: `bath fix-a { … }`.
#[derive(Debug, Clone)]
pub struct KeptBath {
    /// Its name as declared, without a prefix.
    pub name: String,
    /// Its title, or its name where it has none.
    pub title: String,
    /// Its declaration's header.
    pub span: Span,
    /// What is in it.
    pub solution: Arc<Solution>,
    /// How strong.
    pub dilution: Dilution,
    /// How much of it was made.
    pub volume: Stated<Volume>,
    /// The day it was made.
    pub mixed: Stated<Date>,
    /// The day it was poured away.
    pub discarded: Option<Stated<Date>>,
    /// Remarks.
    pub notes: Vec<String>,
    /// Cautions of its own.
    pub cautions: Vec<String>,
}
