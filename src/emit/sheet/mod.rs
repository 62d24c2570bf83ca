//! The sheet to weigh or measure a solution by, as text with boxes to tick and as JSON.

mod amount;
mod json;
mod label;
mod rows;
mod text;

pub use json::sheet_json;
pub use text::sheet;

use crate::compile::Scale;

/// The units beside the metric ones.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Beside {
    /// None.
    Nothing,
    /// Avoirdupois ounces, grains, and fluid ounces of the United States.
    UnitedStates,
}

/// The units of a sheet.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Units {
    /// The first scale of temperature.
    pub scale: Scale,
    /// The units beside grams and millilitres.
    pub beside: Beside,
}
