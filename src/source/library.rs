//! How a stage asks for another file without knowing of a disk: the edge answers.

use super::files::Sources;
use super::span::FileId;

/// The text of a file has at most this many bytes, wherever it comes from.
pub const BYTES_MAX: u64 = 1 << 20;

/// Why a file that a recipe uses was not read. The words never show what stands in it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum NotRead {
    /// The path leaves the recipe's root, is absolute, or does not end in `.wet`; nothing was opened.
    Outside,
    /// No such file, a folder, or no permission; the words say which.
    Unreadable(String),
    /// Its bytes are not text that a recipe can have; the words say why.
    NotText(String),
    /// The run has read as many files as one run may.
    TooMany,
}

/// Whatever can find the file that `use "path"` names. One file is one number, however it is spelled.
pub trait Library {
    /// Reads the file that `path` names as seen from `from`, or finds it among those already read.
    ///
    /// # Errors
    /// See [`NotRead`].
    fn open(&mut self, sources: &mut Sources, from: FileId, path: &str) -> Result<FileId, NotRead>;
}
