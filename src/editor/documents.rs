//! The open documents, whose texts are used instead of their files on the disk.

use std::path::{Path, PathBuf};

use ropey::Rope;

use super::frames::BODY_MAX;
use super::protocol::Range;
use super::view::Encoding;
use crate::check::Levels;
use crate::source::{BYTES_MAX, Files, Map, NotRead};

/// The files that the language server can read. A new `Desk` has none.
pub trait Desk: Files {
    /// Adds the file of an open document, and returns the file's name. Config files are read again after this call.
    fn lay(&mut self, path: &Path) -> String;

    /// The sorted paths of all recipe files below the root folder of the file with this name; `None` if there are too
    /// many.
    fn beside(&self, name: &str) -> Option<Vec<PathBuf>>;

    /// The sorted names of the collections that the file with this name can use.
    fn collections(&self, name: &str) -> Vec<String>;

    /// Adds a file that [`Desk::beside`] listed, and returns its name. `None` if the file is gone or has become a link.
    fn take(&mut self, path: &Path) -> Option<String>;

    /// Whether the files with these names have the same root folder.
    fn are_of_one_root(&self, one: &str, other: &str) -> bool;

    /// The path of the file with this name; `None` if the `Desk` does not have this file.
    fn path(&self, name: &str) -> Option<PathBuf>;

    /// The severity of each rule in the file with this name.
    ///
    /// # Errors
    /// The config file has an error; the string describes it.
    fn levels(&mut self, name: &str) -> Result<Levels, String>;
}

#[derive(Default)]
pub(super) struct Document {
    pub(super) version: i32,
    /// A number that is greater the later the document was opened.
    pub(super) number: u64,
    /// The name of the document's file in the `Desk`, or the document's address if it has no file.
    pub(super) name: String,
    /// The text in the editor, with its byte-order mark. `None` if it is not known, because the message with it was too
    /// long.
    pub(super) whole: Option<Rope>,
}

/// The range to replace in a document, and the new text. Without a range, the text replaces the whole document.
pub(super) type Change = (Option<Range>, String);

impl Document {
    /// The text without its byte-order mark; empty if there is a [`Document::problem`].
    pub(super) fn text(&self) -> String {
        let whole = self.whole.as_ref().filter(|_| self.problem().is_none());
        let mut text = whole.map_or_else(String::new, Rope::to_string);
        if text.starts_with('\u{feff}') {
            text.remove(0);
        }
        text
    }

    /// Why the text cannot be checked, with a help line; `None` if the text can be checked.
    pub(super) fn problem(&self) -> Option<&'static str> {
        let Some(whole) = &self.whole else {
            return Some(
                "this text is not known: the message with it was too long\n\
                 help: split it into files under 1 MiB, then close this one and open it again",
            );
        };
        let mark = if whole.get_char(0) == Some('\u{feff}') { 3 } else { 0 };
        ((whole.len_bytes() - mark) as u64 > BYTES_MAX)
            .then_some("this text is over 1 MiB\nhelp: split it into smaller files")
    }

    /// Applies the changes of one message in order. While the text is not known, a change with a range is ignored.
    pub(super) fn change(&mut self, version: i32, changes: Vec<Change>, encoding: Encoding) {
        self.version = version;
        for (range, text) in changes {
            match (range, &mut self.whole) {
                (None, whole) => *whole = Some(Rope::from(text)),
                (Some(range), Some(whole)) => {
                    let start = encoding.char_at(whole, range.start);
                    whole.remove(start..encoding.char_at(whole, range.end).max(start));
                    whole.insert(start, &text);
                }
                (Some(_), None) => {}
            }
        }
        self.whole = self.whole.take().filter(|whole| whole.len_bytes() as u64 <= BODY_MAX);
    }
}

/// The open documents, and the `Desk` for all other files.
pub(super) struct Texts<'a> {
    pub(super) documents: Map<String, Document>,
    pub(super) desk: Box<dyn Desk>,
    pub(super) encoding: Encoding,
    pub(super) lend: Box<dyn Fn() -> Box<dyn Desk> + 'a>,
}

impl Texts<'_> {
    /// The document at an address; a new, empty one if none is open there.
    pub(super) fn open(&mut self, address: String) -> &mut Document {
        let number = self.documents.values().map(|document| document.number + 1).max().unwrap_or(0);
        self.documents.value_or(address, || Document { number, ..Document::default() })
    }

    /// Replaces the `Desk` with a new one, because any file may have changed.
    pub(super) fn reload(&mut self) {
        self.desk = (self.lend)();
        let mut oldest_first: Vec<(u64, String)> =
            self.documents.iter().map(|(address, document)| (document.number, address.clone())).collect();
        oldest_first.sort_unstable();
        oldest_first.iter().for_each(|(_, address)| self.lay(address));
    }

    /// Sets the name of the document at this address: the name of its file in the `Desk`, or the address if it has no
    /// file.
    pub(super) fn lay(&mut self, address: &str) {
        if let Some(document) = self.documents.get_mut(address) {
            document.name = path_of(address).map_or_else(|| address.to_owned(), |path| self.desk.lay(&path));
        }
    }

    pub(super) fn of(&self, name: &str) -> Option<(&String, &Document)> {
        self.documents.iter().find(|(_, document)| document.name == name)
    }
}

impl Files for Texts<'_> {
    fn read(&self, name: &str) -> Result<String, NotRead> {
        self.of(name).map_or_else(|| self.desk.read(name), |(_, document)| Ok(document.text()))
    }

    fn resolve(&self, from: &str, path: &str) -> Result<String, NotRead> {
        self.desk.resolve(from, path)
    }
}

/// The path in a `file:///` address; `None` for other addresses.
fn path_of(address: &str) -> Option<PathBuf> {
    let rest = address.strip_prefix("file://")?;
    let encoded = rest.strip_prefix("localhost").unwrap_or(rest);
    if !encoded.starts_with('/') || encoded.contains(['?', '#']) {
        return None;
    }
    let mut bytes = Vec::with_capacity(encoded.len());
    let mut left = encoded.bytes();
    let digit = |byte: Option<u8>| char::from(byte?).to_digit(16).and_then(|digit| u8::try_from(digit).ok());
    while let Some(byte) = left.next() {
        bytes.push(if byte == b'%' { 16 * digit(left.next())? + digit(left.next())? } else { byte });
    }
    String::from_utf8(bytes).ok().filter(|path| !path.contains('\0')).map(PathBuf::from)
}

pub(super) fn address_of(path: &Path) -> String {
    let mut address = "file://".to_owned();
    for byte in path.to_string_lossy().bytes() {
        let is_plain = byte.is_ascii_alphanumeric() || b"-._~/".contains(&byte);
        address += &if is_plain { char::from(byte).to_string() } else { format!("%{byte:02X}") };
    }
    address
}
