//! Files by number, places in them, and the one kind of finding that every later stage reports.
//! Knows nothing of the language: a file here is a name and a text.

mod clip;
mod diagnostic;
mod files;
mod hidden;
mod sources;
mod span;

pub use clip::{clip, first_few};
pub use diagnostic::{Diagnostic, Edit, Fix, Level};
pub use files::{BYTES_MAX, Files, MemoryFiles, NotRead};
#[cfg(feature = "disk")]
pub(crate) use files::{below, with_slashes};
pub use hidden::is_hidden;
pub use sources::{Place, SourceFile, Sources};
pub use span::{FileId, Span};
