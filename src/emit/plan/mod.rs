//! A plan in words, and as text, JSON and CSV.

mod csv;
mod json;
mod sheet;
mod text;

pub(in crate::emit) use super::load::HANGING;
pub use csv::plan_csv;
pub use json::plan_json;
pub use sheet::PlanSheet;
pub(in crate::emit) use sheet::{LeftSheet, LoadSheet};
pub use text::plan_text;
