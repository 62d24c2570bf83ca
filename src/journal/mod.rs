//! What was done, counted: how much film each bath has treated, how it stands on a day, and which rolls of a
//! backlog are developed. Nothing of it is stored anywhere but in the sessions and tests.

mod capacity;
mod clearing;
mod count;
mod standing;
mod usage;

pub use capacity::Capacity;
pub use clearing::Cleared;
pub use count::{developed, treated, treated_by};
pub use standing::{Standing, Verdict};
pub use usage::{Usage, usages};
