//! A plan in words: what its text and its page draw, and beside it what programs and spreadsheets read.

mod csv;
mod json;
mod sheet;
mod text;

pub use csv::plan_csv;
pub use json::plan_json;
pub use sheet::PlanSheet;
pub(in crate::emit) use sheet::{HANGING, LeftSheet, LoadSheet};
pub use text::plan_text;
