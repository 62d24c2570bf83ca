//! What was done, counted: how much film each bath has treated, and which rolls of a backlog are
//! developed. Nothing of it is stored anywhere but in the sessions.

mod count;

pub use count::{developed, treated};
