//! Pictures of an evening, for who would rather look than read: what stands where is settled in a
//! [`Drawing`], which a page, a file and a sheet of paper draw alike. They are made of what the schedule's
//! JSON has too, and of nothing else, so that whoever holds the JSON can draw them again.

mod curve;
mod drawing;
mod ink;
mod strip;
mod svg;
mod ticks;
mod words;

pub use curve::curve;
pub use drawing::{Anchor, Drawing, Shape};
pub use ink::Ink;
pub use strip::strip;
pub use svg::svg;
pub(super) use svg::{element, rules};
pub(super) use words::BODY;

use crate::compile::Schedule;

/// All that there is to draw of that evening: the strip, and the charts if there are any.
#[must_use]
pub fn pictures(schedule: &Schedule) -> Vec<Drawing> {
    [strip(schedule)].into_iter().chain(curve(schedule)).collect()
}
