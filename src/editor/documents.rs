//! The open texts, which replace their files on the disk wherever they are used.

use std::collections::BTreeMap;
use std::path::{Path, PathBuf};

use gen_lsp_types::TextDocumentContentChangeEvent;
use ropey::Rope;

use super::frames::BODY_MAX;
use super::positions::{Encoding, char_at};
use crate::check::Levels;
use crate::source::{BYTES_MAX, FileId, Files, Sources};

/// Access to files for one view of the open texts; empty at first.
pub trait Desk: Files {
    /// Puts an open text in place of the file at that path; without a path it uses no other file.
    fn lay(&mut self, sources: &mut Sources, path: Option<&Path>, name: &str, text: &str) -> FileId;

    /// The paths of all recipes below the root of the file with this name, in order; `None` if there are too many.
    fn beside(&self, name: &str) -> Option<Vec<PathBuf>>;

    /// Reads one of these; `None` if it is not a recipe any more or a link leads out of the root.
    fn take(&mut self, sources: &mut Sources, path: &Path) -> Option<FileId>;

    /// Whether the files with these names belong to one root.
    fn are_of_one_root(&self, one: &str, other: &str) -> bool;

    /// The path of the file with this name, if it was put or opened.
    fn path(&self, name: &str) -> Option<PathBuf>;

    /// The severities of the rules in the file with this name.
    ///
    /// # Errors
    /// What is wrong with its config file.
    fn levels(&mut self, name: &str) -> Result<Levels, String>;
}

/// One open text.
#[derive(Debug)]
pub(super) struct Document {
    /// Its version, as the editor counts.
    pub(super) version: i32,
    /// How many documents were opened before it.
    pub(super) number: u64,
    /// The text as the editor has it, byte-order mark included; `None` where it is not known.
    whole: Option<String>,
}

/// Unicode's byte-order mark.
pub(super) const MARK: char = '\u{feff}';

/// The open texts by their addresses.
pub(super) type Documents = BTreeMap<String, Document>;

impl Document {
    /// A text as the editor gives it.
    pub(super) fn new(version: i32, text: String) -> Document {
        Document { version, number: 0, whole: Some(text).filter(|text| text.len() as u64 <= BODY_MAX) }
    }

    /// A text that came, or was changed, in a message that was refused.
    pub(super) fn unknown(version: i32) -> Document {
        Document { version, number: 0, whole: None }
    }

    /// The text without its byte-order mark; empty where there is a [`Document::problem`].
    pub(super) fn text(&self) -> &str {
        if self.problem().is_some() { "" } else { self.bare().unwrap_or("") }
    }

    fn bare(&self) -> Option<&str> {
        self.whole.as_deref().map(|whole| whole.strip_prefix(MARK).unwrap_or(whole))
    }

    /// Whether the editor has a byte-order mark before the text, which then is the first column.
    pub(super) fn is_marked(&self) -> bool {
        self.whole.as_ref().is_some_and(|whole| whole.starts_with(MARK))
    }

    /// Why the text cannot be checked, with a help line; `None` if it can.
    pub(super) fn problem(&self) -> Option<&'static str> {
        match self.bare() {
            None => Some(
                "this text is not known: the editor sent it in too long a message\n\
                 help: split it into files under 1 MiB, then close this one and open it again",
            ),
            Some(text) if text.len() as u64 > BYTES_MAX => {
                Some("this text is over 1 MiB\nhelp: split it into smaller files")
            }
            Some(_) => None,
        }
    }

    /// Applies the changes of one message, each to the text that the one before it left.
    pub(super) fn change(
        &mut self,
        version: i32,
        changes: Vec<TextDocumentContentChangeEvent>,
        encoding: Encoding,
    ) {
        let mut text = self.whole.take().map(|whole| Rope::from_str(&whole));
        for change in changes {
            match (change, &mut text) {
                (TextDocumentContentChangeEvent::TextDocumentContentChangeWholeDocument(whole), text) => {
                    *text = Some(Rope::from_str(&whole.text));
                }
                (TextDocumentContentChangeEvent::TextDocumentContentChangePartial(part), Some(text)) => {
                    let start = char_at(text, part.range.start, encoding);
                    let end = char_at(text, part.range.end, encoding).max(start);
                    text.remove(start..end);
                    text.insert(start, &part.text);
                }
                // A part of a text that is not known.
                (TextDocumentContentChangeEvent::TextDocumentContentChangePartial(_), None) => {}
            }
        }
        let changed =
            text.map_or_else(|| Document::unknown(version), |text| Document::new(version, text.into()));
        *self = Document { number: self.number, ..changed };
    }
}
