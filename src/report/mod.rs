//! Diagnostics to bytes. One place draws and one place makes strangers' text safe to show; no word
//! of any fault is here.

mod draw;
mod sanitise;
mod summary;

pub use draw::{DRAWN_MAX, Look, draw};
pub use sanitise::sanitise;
pub use summary::{Count, count, summary};
