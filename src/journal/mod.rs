//! Counts from the journal: the film that each bath has treated, its state on a day, and the rolls that are developed.
//! Nothing is stored outside the sessions and clearing tests.

mod capacity;
mod standing;

pub use capacity::Capacity;
pub use standing::{Cleared, Standing, Usage, Verdict, developed, treated, usages};
