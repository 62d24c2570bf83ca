//! Pictures of an evening, for who would rather look than read: what stands where is settled in a
//! [`Drawing`], which a page, a file and a sheet of paper draw alike. They are made of what the schedule's
//! JSON has too, and of nothing else, so that whoever holds the JSON can draw them again.

mod curve;
mod drawing;
mod strip;
mod svg;
mod ticks;
mod words;

pub use curve::curve;
pub use drawing::{Anchor, Drawing, Ink, Shape};
pub use strip::strip;
pub use svg::svg;
