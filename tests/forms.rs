//! The evening as a table, as a calendar and as a track of tones, each read back by a reader that is not
//! ours and held to times that were reckoned by hand.

mod calendar;
mod shelf;
mod table;
mod tones;

use crate::kitchen::{SMALL_EVENING as TEXT, two_rolls as schedule};
