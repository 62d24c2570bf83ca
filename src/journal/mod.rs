//! Counts from the journal: the film that each bath has treated, its state on a day, and the rolls that are developed.

mod capacity;
mod standing;

pub use capacity::Capacity;
pub use standing::{Cleared, Standing, Usage, Verdict, developed, treated, usages};
