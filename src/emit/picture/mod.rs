//! Pictures of an evening, for who would rather look than read: what stands where is settled in a
//! [`Drawing`], which a page and a sheet of paper draw alike.

mod drawing;

pub use drawing::{Anchor, Drawing, Ink, Shape};
