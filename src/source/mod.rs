//! Files by number, places in them, and the one kind of finding that every later stage reports.
//! Knows nothing of the language: a file here is a name and a text.

mod clip;
mod diagnostic;
mod files;
mod hidden;
mod library;
mod span;

pub use clip::{clip, first_few};
pub use diagnostic::{Diagnostic, Edit, Fix, Level};
pub use files::{Place, SourceFile, Sources};
pub use hidden::is_hidden;
pub use library::{BYTES_MAX, Library, NotRead};
pub use span::{FileId, Span};
