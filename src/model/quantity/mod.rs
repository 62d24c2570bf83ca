//! Quantities in whole base units, so that nothing is lost before the formulas that need real
//! numbers (R1, R2, R5). Each says its unit, and each range is named once, in `range`.

mod difference;
mod flow;
mod mass;
mod number;
mod range;
mod temperature;
mod time;
mod volume;

pub use difference::Difference;
pub use flow::{Flow, Share, Speed};
pub use mass::Mass;
pub use number::{Number, decimal};
pub use range::{Limit, Range};
pub use temperature::Temperature;
pub use time::Time;
pub use volume::Volume;
