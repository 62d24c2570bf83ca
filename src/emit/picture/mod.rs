//! Pictures of a session as [`Drawing`]s. They use only what the schedule's JSON has too.

mod curve;
mod drawing;
mod parts;
mod strip;
mod svg;

pub use curve::curve;
pub use drawing::{Anchor, Drawing, Ink, Shape};
pub(super) use parts::BODY;
pub use strip::strip;
pub use svg::svg;
pub(super) use svg::{element, rules};

use crate::compile::Schedule;

/// The pictures of a session: the strip, and the charts if it has any.
#[must_use]
pub fn pictures(schedule: &Schedule) -> Vec<Drawing> {
    [strip(schedule)].into_iter().chain(curve(schedule)).collect()
}
