//! Counts from the journal: the film that each bath has treated, its state on a day, and the rolls that are developed.
//! Nothing is stored outside the sessions and clearing tests.

mod capacity;
mod clearing;
mod standing;
mod usage;

pub use capacity::Capacity;
pub use clearing::Cleared;
pub use standing::{Standing, Verdict};
pub use usage::{Usage, developed, treated, usages};
