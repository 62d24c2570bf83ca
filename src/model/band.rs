//! The temperatures that a step may have.

use super::quantity::{Difference, Temperature};

/// The temperatures a step may have (R3). Bounds count as inside.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Band {
    /// From the first to the second.
    Between(Temperature, Temperature),
    /// So far from the step's own temperature, either way.
    Within(Difference),
}
