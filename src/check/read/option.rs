//! The values of options of the command line, read by the same matcher as a statement.

use super::cursor::Cursor;
use super::pattern::Reader;
use crate::source::{Diagnostic, Sources, Span};
use crate::syntax::parse;
use crate::vocabulary::{Capture, Value};

/// The value of an option, read as in a statement, except that a unit may have another spelling.
///
/// # Errors
/// The first error of the text.
pub(crate) fn value<T: Capture>(text: &str) -> Result<Value, Box<Diagnostic>> {
    let mut sources = Sources::default();
    let file = sources.add("", text);
    let (tree, mut faults) = parse(&sources, file);
    let cursor = Cursor { text, tokens: &tree.tokens, at: 0, file };
    let items = Vec::new();
    let mut reader = Reader { cursor, row: T::ROW, items, faults: &mut faults, following: None };
    let read = reader.statement();
    let value = reader.items.pop().filter(|_| read.is_ok());
    let fault = faults.into_iter().next();
    let span = Span { file, start: 0, end: 0 };
    match (value, fault) {
        (Some(item), None) => Ok(item.value),
        (_, Some(fault)) => Err(Box::new(fault)),
        (None, None) => Err(Box::new(Diagnostic::error("missing-value", span, "a value is missing"))),
    }
}
