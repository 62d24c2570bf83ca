//! The tree's lines, read through the vocabulary: each statement becomes the row it follows and the
//! values it gives, in their kinds. What does not fit is told, and the rest of the file read on.

mod blocks;
mod cursor;
mod dilution;
mod mismatch;
mod names;
mod numbers;
mod pattern;
mod time;

use cursor::Cursor;
use pattern::Reader;

use crate::source::{Diagnostic, Sources, Span};
use crate::syntax::parse;
use crate::vocabulary::{Capture, Value};

pub(crate) use blocks::read_file;
pub(crate) use mismatch::units_of;
pub(super) use names::may_be_name;
pub(crate) use pattern::{Want, following};

/// The faults that reading tells.
pub(super) const FAULTS: &[(&str, &str)] = &[
    ("unknown-word", "a word that begins no statement here"),
    ("misplaced-statement", "a statement that stands in another kind of block"),
    ("not-a-statement", "a line that does not begin with a word"),
    ("repeated-statement", "a statement that may stand once, twice"),
    ("missing-statement", "a statement that is needed and not there"),
    ("block-too-long", "a block of more than 1,000 lines; a backlog of more than 10,000"),
    ("missing-block", "a header without its block"),
    ("needless-block", "a block where none belongs"),
    ("missing-value", "a statement that ends too early"),
    ("missing-word", "a word of the statement that is not there"),
    ("missing-unit", "a number without its unit"),
    ("wrong-kind", "a value of another kind than the statement wants"),
    ("unexpected-words", "words after the statement's end"),
    ("unknown-unit", "a unit that does not exist"),
    ("unit-spelling", "a unit spelled otherwise than recipes do"),
    ("ambiguous-unit", "a unit that means several"),
    ("ambiguous-dilution", "a dilution that means two strengths"),
    ("bad-dilution", "a dilution that is not whole parts"),
    ("bad-clock", "a time whose fields are not two digits under 60"),
    ("bad-number", "a number with too many figures, or not a number"),
    ("bad-date", "a day that the calendar does not have"),
    ("out-of-range", "a value that no darkroom has"),
    ("bad-name", "a name that is not small letters, digits and hyphens"),
    ("reserved-name", "a name that is a word of the language"),
    ("text-too-long", "a text of more than 2,000 characters"),
    ("unknown-format", "a film format that does not exist"),
    ("unknown-ingredient", "an ingredient that the table does not have"),
    ("version", "a version of the language that this program does not know"),
];

/// The value of an option, read as a statement reads it; a unit may also have another certain spelling.
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
