//! What differs between two recipes, in words that tell one side from the other, as text and as JSON.

mod aspect;
mod hand;
mod reading;
mod wording;
mod text;
mod json;

pub use json::comparison_json;
pub use text::comparison;
