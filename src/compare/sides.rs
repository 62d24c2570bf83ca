//! What stands on either side of a comparison.

use crate::model::{Recipe, Temperature};

/// The two recipes, and the temperatures to tell times at.
#[derive(Debug, Clone, Copy)]
pub(super) struct Two<'a> {
    pub(super) old: &'a Recipe,
    pub(super) new: &'a Recipe,
    pub(super) at: &'a [Temperature],
}
