//! Wetside: recipes for film, kept as text, compiled into tonight's card.
pub mod source;
pub mod syntax;
