//! Diagnostics to bytes. One place draws and one place makes strangers' text safe to show; no word
//! of any fault is here.

mod draw;
mod json;
mod lines;
mod sanitise;
mod sarif;
mod summary;
mod told;

pub use draw::{DRAWN_MAX, Look, draw};
pub use json::json;
pub use lines::lines;
pub use sanitise::{escaped, sanitise};
pub use sarif::{Described, sarif};
pub use summary::{Count, count, summary};
pub use told::{Mend, STDIN, TOLD_MAX, Told, Where, file_name, told};
