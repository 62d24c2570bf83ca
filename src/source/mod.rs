//! Files, spans of text in them, and diagnostics. This stage knows nothing of the recipe language.

mod clip;
mod diagnostic;
mod files;
mod map;
mod sorted;
mod sources;

pub use clip::{clip, first_few, has_hidden, is_hidden};
pub use diagnostic::{Diagnostic, Edit, Fix, Level};
pub(crate) use files::root_in;
pub use files::{BYTES_MAX, Files, MemoryFiles, NotRead};
pub(crate) use files::{COLLECTION, COLLECTIONS};
#[cfg(feature = "disk")]
pub(crate) use files::{below, with_slashes};
pub use map::{Map, Set};
pub(crate) use sorted::Sorted;
pub use sources::{FileId, Place, SourceFile, Sources, Span};
