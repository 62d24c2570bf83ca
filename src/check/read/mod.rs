//! Compares each statement with its row of the vocabulary table, and reads the values of its slots. A line that does
//! not match its row is reported and skipped.

mod blocks;
mod cursor;
mod edition;
mod mismatch;
mod names;
mod pattern;
mod slips;
mod values;

use super::error;

pub(crate) use blocks::read_file;
pub(super) use edition::newer;
pub(crate) use edition::{has_development_time, older, stated};
pub(crate) use mismatch::units_of;
pub(crate) use names::unknown_ingredient;
pub use names::{is_dated_name, is_free_name};
pub(crate) use pattern::value;
pub(crate) use pattern::{Want, following};
