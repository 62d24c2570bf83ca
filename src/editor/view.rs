//! Documents that are checked together, and the files they use, with diagnostics and names.

use std::cell::OnceCell;
use std::collections::BTreeMap;
use std::path::PathBuf;

use ropey::Rope;

use super::documents::{Document, Texts, address_of};
use super::protocol::{Location, Position, Range, TextEdit};
use crate::check::{Checker, Levels, Survey};
use crate::source::{Diagnostic, Edit, FileId, Files as _, Map, Set, Sorted as _, Sources, Span};

/// The most items in a response, and the most diagnostics of a document.
pub(super) const LISTED_MAX: usize = 2_000;

/// The addresses of documents, and the checker that keeps the results of their earlier checks.
pub(super) type Group = (Set<String>, Checker);

/// The result of checking documents that use each other or the same files. It is valid until a text changes.
#[derive(Default)]
pub(super) struct View {
    /// The documents open in the editor, then the files that they use.
    pub(super) sources: Sources,
    pub(super) findings: Vec<Diagnostic>,
    /// The errors of config files. The keys are the documents to which the config files apply. These documents are
    /// checked with the default severities.
    pub(super) config_errors: Map<FileId, String>,
    pub(super) survey: Survey,
    pub(super) is_surveyed: bool,
    pub(super) is_published: bool,
    /// The documents, in the order in which they were opened; in a view from [`View::over`], the given files.
    pub(super) roots: Vec<FileId>,
    checker: Checker,
    encoding: Encoding,
    files: Vec<Located>,
}

/// A file's address in the editor, and its text with the byte-order mark. The editor counts positions in this text.
struct Located {
    address: String,
    text: OnceCell<Rope>,
}

impl Located {
    fn of((address, document): (&String, &Document)) -> Located {
        let text = OnceCell::from(document.whole.clone().unwrap_or_default());
        Located { address: address.clone(), text }
    }
}

impl View {
    pub(super) fn of(texts: &mut Texts<'_>, (addresses, checker): Group) -> View {
        let mut view = View { checker, encoding: texts.encoding, ..View::default() };
        let known = addresses.iter().filter_map(|address| Some((address, texts.documents.get(address)?)));
        let mut documents: Vec<(&String, &Document)> = known.collect();
        // The documents are added in the order of opening, so that a document keeps its `FileId` when another one is
        // opened.
        documents.order_by_key(|(_, document)| document.number);
        for (address, document) in documents {
            view.roots.push(view.sources.add(&*document.name, document.text()));
            view.files.push(Located::of((address, document)));
        }
        let mut levels = Levels::default();
        for file in &view.roots {
            match texts.desk.levels(view.sources.name(*file)) {
                Ok(own) => levels.set_in(*file, own),
                Err(words) => _ = view.config_errors.insert(*file, words),
            }
        }
        view.findings = view.checker.check(&mut view.sources, &view.roots, texts, &levels);
        view.locate(texts);
        view
    }

    /// A view that has the names in these files, but does not check the files.
    pub(super) fn over(texts: &mut Texts<'_>, paths: &[PathBuf]) -> View {
        let mut view = View { encoding: texts.encoding, ..View::default() };
        for path in paths {
            if let Some(name) = texts.desk.take(path)
                && let Ok(text) = texts.read(&name)
            {
                view.roots.push(view.sources.add(name, text));
            }
        }
        view.survey(texts);
        view
    }

    pub(super) fn survey(&mut self, texts: &Texts<'_>) {
        if !self.is_surveyed {
            self.survey = self.checker.survey(&mut self.sources, &self.roots, texts);
            self.is_surveyed = true;
            self.locate(texts);
        }
    }

    /// Finds the addresses of the files that were read since the last call.
    fn locate(&mut self, texts: &Texts<'_>) {
        for (_, file) in self.sources.iter().skip(self.files.len()) {
            self.files.push(texts.of(&file.name).map(Located::of).unwrap_or_else(|| {
                let path = texts.desk.path(&file.name);
                Located {
                    address: path.as_deref().map(address_of).unwrap_or_default(),
                    text: OnceCell::new(),
                }
            }));
        }
    }

    pub(super) fn addresses(&self) -> impl Iterator<Item = (FileId, &String)> {
        self.sources.iter().zip(&self.files).map(|((file, _), located)| (file, &located.address))
    }

    pub(super) fn documents(&self) -> impl Iterator<Item = (FileId, &String)> {
        self.addresses().take(self.roots.len())
    }

    pub(super) fn document(&self, address: &str) -> Option<FileId> {
        self.documents().find(|(_, own)| *own == address).map(|(file, _)| file)
    }

    pub(super) fn into_group(self) -> Group {
        (self.files.into_iter().take(self.roots.len()).map(|file| file.address).collect(), self.checker)
    }

    pub(super) fn meets(&self, other: &View) -> bool {
        self.sources.iter().any(|(_, file)| other.sources.id(&file.name).is_some())
    }

    /// The recipe files below the root folder of `file` that this view has not read; `None` if there are too many
    /// files.
    pub(super) fn unread(&self, texts: &Texts<'_>, file: FileId) -> Option<Vec<PathBuf>> {
        let read: Set<PathBuf> =
            self.sources.iter().filter_map(|(_, file)| texts.desk.path(&file.name)).collect();
        let mut beside = texts.desk.beside(self.sources.name(file))?;
        beside.retain(|path| !read.contains(path));
        Some(beside)
    }

    /// The text in the editor, and the length of its byte-order mark in bytes.
    fn text(&self, file: FileId) -> Option<(&Rope, usize)> {
        let text = self.sources.text(file);
        let whole = self.files.get(file.0 as usize)?.text.get_or_init(|| Rope::from_str(text));
        Some((whole, whole.len_bytes().saturating_sub(text.len())))
    }

    pub(super) fn span(&self, file: FileId, range: Range) -> Span {
        let byte = |position| {
            let (whole, lead) = self.text(file)?;
            let byte = whole.char_to_byte(self.encoding.char_at(whole, position));
            Some(small(byte.saturating_sub(lead)))
        };
        let start = byte(range.start).unwrap_or(0);
        Span { file, start, end: byte(range.end).unwrap_or(0).max(start) }
    }

    pub(super) fn range(&self, span: Span) -> Range {
        let position = |byte: u32| {
            let known = self.text(span.file);
            known.map(|(whole, lead)| self.encoding.position(whole, byte as usize + lead)).unwrap_or_default()
        };
        Range { start: position(span.start), end: position(span.end) }
    }

    pub(super) fn uri(&self, file: FileId) -> String {
        self.files.get(file.0 as usize).map_or_else(String::new, |file| file.address.clone())
    }

    pub(super) fn location(&self, span: Span) -> Location {
        Location { uri: self.uri(span.file), range: self.range(span) }
    }

    pub(super) fn edits(&self, edits: &[Edit]) -> BTreeMap<String, Vec<TextEdit>> {
        let mut changes: BTreeMap<String, Vec<TextEdit>> = BTreeMap::new();
        for edit in edits {
            let change = TextEdit { range: self.range(edit.span), new_text: edit.text.clone() };
            changes.entry(self.uri(edit.span.file)).or_default().push(change);
        }
        changes
    }
}

/// The unit in which the protocol counts columns.
#[derive(Clone, Copy, Default)]
pub(super) enum Encoding {
    /// Bytes.
    Utf8,
    /// UTF-16 code units, the protocol's default.
    #[default]
    Utf16,
}

impl Encoding {
    pub(super) fn position(self, text: &Rope, byte: usize) -> Position {
        let byte = byte.min(text.len_bytes());
        let line = text.byte_to_line(byte);
        let column = |byte| match self {
            Encoding::Utf8 => byte,
            Encoding::Utf16 => text.char_to_utf16_cu(text.byte_to_char(byte)),
        };
        Position { line: small(line), character: small(column(byte) - column(text.line_to_byte(line))) }
    }

    /// The index of the character at a position. A position after the end of its line or of the text counts as that
    /// end.
    pub(super) fn char_at(self, text: &Rope, position: Position) -> usize {
        let Some(line) = text.get_line(position.line as usize) else { return text.len_chars() };
        let reversed = line.chars_at(line.len_chars()).reversed();
        let end = reversed.take_while(|letter| matches!(letter, '\n' | '\r')).count();
        let words = line.slice(..line.len_chars() - end);
        let column = position.character as usize;
        let within = match self {
            Encoding::Utf8 => words.byte_to_char(column.min(words.len_bytes())),
            Encoding::Utf16 => words.utf16_cu_to_char(column.min(words.len_utf16_cu())),
        };
        text.line_to_char(position.line as usize) + within
    }
}

/// The number as `u32`, which always fits: a text is far below 4 GiB.
pub(super) fn small(number: usize) -> u32 {
    u32::try_from(number).unwrap_or(u32::MAX)
}
