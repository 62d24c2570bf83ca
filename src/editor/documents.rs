//! The texts that an editor has open. They go before what the disk has, in every file that uses them.

use std::collections::BTreeMap;
use std::path::{Path, PathBuf};

use gen_lsp_types::TextDocumentContentChangeEvent;

use super::positions::{Encoding, Ruler};
use crate::check::Levels;
use crate::source::{BYTES_MAX, FileId, Files, Sources};

/// How the editor's side asks for files, without knowing of a disk. One is lent for each look at the
/// open texts, with nothing on it.
pub trait Desk: Files {
    /// Lays an open text out, in place of the file at that path; without a path it uses no other file.
    fn lay(&mut self, sources: &mut Sources, path: Option<&Path>, name: &str, text: &str) -> FileId;

    /// The paths of all recipes below the root of the file with this name, in their order;
    /// `None` if they are more than anybody looks through.
    fn beside(&self, name: &str) -> Option<Vec<PathBuf>>;

    /// Reads one of these; `None` if it is no recipe's text any more, or leads elsewhere.
    fn take(&mut self, sources: &mut Sources, path: &Path) -> Option<FileId>;

    /// Whether the files with these names belong to one root.
    fn are_of_one_root(&self, one: &str, other: &str) -> bool;

    /// Where the file with this name stands, if it was laid out or opened.
    fn path(&self, name: &str) -> Option<PathBuf>;

    /// What the rules weigh in the file with this name.
    ///
    /// # Errors
    /// What is wrong with the place where its weights stand, in words.
    fn levels(&mut self, name: &str) -> Result<Levels, String>;
}

/// One open text.
#[derive(Debug)]
pub(super) struct Document {
    /// Its version, as the editor counts.
    pub(super) version: i32,
    /// The text, without a byte-order mark; empty where it is too long for a recipe.
    pub(super) text: String,
    /// Whether it is too long for a recipe.
    pub(super) too_long: bool,
    /// Whether the editor has a byte-order mark before it, which then is the first column.
    pub(super) marked: bool,
}

/// Unicode's byte-order mark.
pub(super) const MARK: char = '\u{feff}';

/// The open texts by their addresses.
pub(super) type Documents = BTreeMap<String, Document>;

impl Document {
    /// A text as the editor gives it.
    pub(super) fn new(version: i32, text: &str) -> Document {
        let marked = text.starts_with(MARK);
        let text = text.strip_prefix(MARK).unwrap_or(text);
        let too_long = text.len() as u64 > BYTES_MAX;
        Document { version, text: if too_long { String::new() } else { text.to_owned() }, too_long, marked }
    }

    /// The same after a change, of the whole or of a range.
    pub(super) fn changed(
        self,
        version: i32,
        change: TextDocumentContentChangeEvent,
        encoding: Encoding,
    ) -> Document {
        match change {
            TextDocumentContentChangeEvent::TextDocumentContentChangeWholeDocument(whole) => {
                Document::new(version, &whole.text)
            }
            TextDocumentContentChangeEvent::TextDocumentContentChangePartial(part) => {
                // The mark is a letter of the editor's text, and may be what was changed.
                let mut text = if self.marked { format!("{MARK}{}", self.text) } else { self.text };
                let ruler = Ruler::of(&text, encoding);
                let start = ruler.byte(&text, part.range.start);
                let end = ruler.byte(&text, part.range.end).max(start);
                text.replace_range(start..end, &part.text);
                Document::new(version, &text)
            }
        }
    }
}
