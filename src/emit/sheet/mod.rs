//! The sheet that stands beside the scale: a box to tick for each thing that goes in, in its order. What it
//! says is settled in [`Rows`]; text and JSON draw it.

mod amount;
mod json;
mod label;
mod rows;
mod text;

pub use json::sheet_json;
pub use text::sheet;

use crate::compile::Scale;

/// The units that stand beside the metric ones.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Beside {
    /// None.
    Nothing,
    /// Avoirdupois ounces, grains, and fluid ounces of the United States.
    UnitedStates,
}

/// In which units a sheet is written.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Units {
    /// Which scale of temperature stands first.
    pub scale: Scale,
    /// What stands beside grams and millilitres.
    pub beside: Beside,
}
