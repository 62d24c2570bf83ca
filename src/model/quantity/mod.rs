//! Quantities in whole base units, so that nothing is rounded before the formulas (R1, R2, R5).

mod amount;
mod number;
mod temperature;
mod time;

pub use amount::{Flow, Mass, Share, Speed, Volume};
pub use number::{Limit, Number, Range, decimal};
pub use temperature::{Difference, Temperature};
pub use time::Time;
