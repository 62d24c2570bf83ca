//! Reports: diagnostics as text, JSON or SARIF, with every quoted text made safe to show.

mod draw;
mod finding;
mod json;
mod sanitise;
mod sarif;
mod summary;

pub use draw::{DRAWN_MAX, Look, draw};
pub use finding::{FINDINGS_MAX, Finding, Location, Other, STDIN, file_name, finding};
pub use json::{json, lines};
pub use sanitise::{escaped, sanitise};
pub use sarif::{Described, sarif};
pub use summary::{Count, count, summary};
