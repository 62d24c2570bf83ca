//! The differences between two recipes, as text and as JSON.

mod json;
mod text;
mod values;

pub use json::comparison_json;
pub use text::comparison;
