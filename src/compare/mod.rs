//! Two recipes to what differs in the work: baths, times, agitation, volumes, order. What is the same
//! work in another layout, in another unit or in other words comes out as no difference.
//!
//! A difference is told exactly where the fingerprints differ. Every field of the model is named
//! here, without a `..`, so that a new one cannot be passed over.

mod difference;
mod pairing;
mod sides;
mod time;
mod formula;
mod bath;
mod film;
mod step;
mod recipe;

pub use difference::{Aspect, Difference, Place, Value};
pub use recipe::{Outcome, compare, compare_all};
