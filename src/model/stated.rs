//! A value with the place that states it, so that every number on a card can be traced to its line.

use crate::source::Span;

/// A value and the statement it stands in.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Stated<T> {
    /// The value.
    pub value: T,
    /// The statement.
    pub span: Span,
}

impl<T> Stated<T> {
    /// A value as that place states it.
    #[must_use]
    pub fn new(value: T, span: Span) -> Stated<T> {
        Stated { value, span }
    }
}
