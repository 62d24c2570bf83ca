//! Wetside: recipes for film, kept as text, compiled into tonight's card.
//!
//! The stages in the order of the work; each knows only those above it, which a test holds. A text
//! becomes a [`syntax::Tree`], trees a [`model::Shelf`], a recipe and tonight's conditions a
//! [`compile::Schedule`], and that a card. Only `cli` reads, prints and knows the machine.

pub mod source;
pub mod report;
pub mod syntax;
pub mod chemistry;
pub mod model;
pub mod journal;
pub mod vocabulary;
pub mod check;
pub mod tidy;
pub mod compile;
pub mod plan;
pub mod measure;
pub mod compare;
pub mod emit;
pub mod editor;
#[allow(
    clippy::disallowed_methods,
    clippy::print_stdout,
    clippy::print_stderr,
    reason = "the edge: the one room that reads, writes and asks the machine"
)]
pub mod cli;

pub use check::check_file as check;
