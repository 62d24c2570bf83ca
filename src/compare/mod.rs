//! Two recipes to their differences, fact by fact: first what differs in the work, then what only differs in what is
//! said. The same work in another layout, in another unit or in other words has no difference in the work.

mod difference;
mod pairing;
mod step;
mod recipe;

pub use difference::{Difference, Place};
pub use recipe::{Outcome, compare, compare_all};
