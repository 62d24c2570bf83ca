//! The evening as a table, a calendar and a cue track, each read back by another reader and compared with times worked by
//! hand.

mod calendar;
mod table;
mod tones;

use crate::kitchen::{SMALL_EVENING as TEXT, two_rolls as schedule};
