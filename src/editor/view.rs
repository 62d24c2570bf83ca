//! A view of all open texts and the files they use, with diagnostics and names. It is valid until a text changes.

use std::collections::{BTreeMap, BTreeSet};
use std::path::PathBuf;

use gen_lsp_types::{Location, Position, Range, TextDocumentPositionParams, TextEdit, Uri};
use serde_json::{Value, json};

use super::addresses::{address_of, path_of};
use super::documents::{Desk, Document, Documents, MARK};
use super::positions::{Encoding, Ruler};
use super::refusal::Refusal;
use crate::check::{Checker, Levels, Survey};
use crate::source::{Diagnostic, Edit, FileId, Sources, Span};

/// The most items in a response, and the most diagnostics of a text.
pub(super) const LISTED_MAX: usize = 2_000;

/// A view of the open texts.
pub(super) struct View {
    /// The open texts and the files they use.
    pub(super) sources: Sources,
    /// The diagnostics.
    pub(super) findings: Vec<Diagnostic>,
    /// The open texts with an unreadable config file, and what is wrong; their rules have the default severities.
    pub(super) unweighed: Vec<(FileId, String)>,
    /// The names; empty until [`View::surveyed`].
    pub(super) survey: Survey,
    /// The state for later checks.
    pub(super) checker: Checker,
    desk: Box<dyn Desk>,
    /// The open texts, in the order in which they were opened.
    roots: Vec<FileId>,
    is_surveyed: bool,
    addresses: BTreeMap<FileId, String>,
    rulers: BTreeMap<FileId, Ruler>,
}

/// The inputs of a view.
#[derive(Clone, Copy)]
pub(super) struct Lent<'a> {
    /// The open texts.
    pub(super) documents: &'a Documents,
    /// Gives an empty desk.
    pub(super) desk: &'a dyn Fn() -> Box<dyn Desk>,
    /// The unit of columns.
    pub(super) encoding: Encoding,
}

impl View {
    /// Checks all open texts, reusing earlier checks.
    pub(super) fn of(lent: Lent<'_>, checker: Checker) -> View {
        let mut view = View { checker, ..View::laid(lent) };
        view.roots = view.addresses.keys().copied().collect();
        let (levels, unweighed) = weights(&view.roots, &view.sources, view.desk.as_mut());
        view.findings = view.checker.check(&mut view.sources, &view.roots, view.desk.as_mut(), &levels);
        view.unweighed = unweighed;
        view.measured(lent)
    }

    /// Reads the names of these files, with the open texts in place of their files, without a check.
    pub(super) fn over(lent: Lent<'_>, paths: &[PathBuf]) -> View {
        let mut view = View::laid(lent);
        let mut roots: Vec<FileId> =
            paths.iter().filter_map(|path| view.desk.take(&mut view.sources, path)).collect();
        roots.sort_unstable();
        view.roots = roots;
        view.surveyed();
        view.measured(lent)
    }

    fn laid(lent: Lent<'_>) -> View {
        let (mut desk, mut sources, mut addresses) = ((lent.desk)(), Sources::default(), BTreeMap::new());
        // By age, so that a file keeps its number when another one is opened.
        let mut documents: Vec<(&String, &Document)> = lent.documents.iter().collect();
        documents.sort_by_key(|(_, document)| document.number);
        for (address, document) in documents {
            let file = desk.lay(&mut sources, path_of(address).as_deref(), address, document.text());
            addresses.insert(file, address.clone());
        }
        View {
            sources,
            findings: Vec::new(),
            checker: Checker::default(),
            unweighed: Vec::new(),
            survey: Survey::default(),
            desk,
            roots: Vec::new(),
            is_surveyed: false,
            addresses,
            rulers: BTreeMap::new(),
        }
    }

    /// The view with the address of each file.
    fn measured(mut self, lent: Lent<'_>) -> View {
        for (file, text) in self.sources.iter() {
            if !self.addresses.contains_key(&file)
                && let Some(path) = self.desk.path(text.name())
            {
                self.addresses.insert(file, address_of(&path));
            }
            let document = self.addresses.get(&file).and_then(|address| lent.documents.get(address));
            let is_marked = document.is_some_and(Document::is_marked);
            self.rulers.insert(file, Ruler::behind(is_marked.then_some(MARK), lent.encoding));
        }
        self
    }

    /// The recipes below the root of a file that this view has not read; `None` if there are too many.
    pub(super) fn unread(&self, file: FileId) -> Option<Vec<PathBuf>> {
        let read: BTreeSet<PathBuf> =
            self.sources.iter().filter_map(|(_, file)| self.desk.path(file.name())).collect();
        let mut beside = self.desk.beside(self.sources.name(file))?;
        beside.retain(|path| !read.contains(path));
        Some(beside)
    }

    /// Whether two files belong to one root.
    pub(super) fn are_of_one_root(&self, one: FileId, other: FileId) -> bool {
        self.desk.are_of_one_root(self.sources.name(one), self.sources.name(other))
    }

    /// The root files of the view.
    pub(super) fn roots(&self) -> &[FileId] {
        &self.roots
    }

    /// The view with its names.
    pub(super) fn surveyed(&mut self) -> &View {
        if !self.is_surveyed {
            self.survey = self.checker.survey(&mut self.sources, &self.roots, self.desk.as_mut());
            self.is_surveyed = true;
        }
        self
    }

    /// The open text of that address.
    pub(super) fn file(&self, uri: &Uri) -> Result<FileId, Refusal> {
        let open = |file: &&FileId| self.addresses.get(file).is_some_and(|address| *address == uri.0);
        let file = self.roots.iter().find(open).copied();
        file.ok_or_else(|| Refusal::params("this document is not open"))
    }

    /// The open text and the byte that a request names.
    pub(super) fn place(&self, params: &TextDocumentPositionParams) -> Result<(FileId, u32), Refusal> {
        let file = self.file(&params.text_document.uri)?;
        Ok((file, self.byte(file, params.position)))
    }

    /// The byte at a position.
    pub(super) fn byte(&self, file: FileId, position: Position) -> u32 {
        let byte = self.rulers.get(&file).map_or(0, |ruler| ruler.byte(self.sources.text(file), position));
        u32::try_from(byte).unwrap_or(u32::MAX)
    }

    /// The address of a file.
    pub(super) fn uri(&self, file: FileId) -> Uri {
        Uri(self.addresses.get(&file).cloned().unwrap_or_default())
    }

    /// A span as the protocol has it.
    pub(super) fn range(&self, span: Span) -> Range {
        let text = self.sources.text(span.file);
        let position = |byte: u32| {
            let ruler = self.rulers.get(&span.file);
            ruler.map_or(Position { line: 0, character: 0 }, |ruler| ruler.position(text, byte as usize))
        };
        Range { start: position(span.start), end: position(span.end) }
    }

    /// A span with its file.
    pub(super) fn location(&self, span: Span) -> Location {
        Location { uri: self.uri(span.file), range: self.range(span) }
    }

    /// Edits as the protocol has them.
    pub(super) fn changes(&self, edits: &[Edit]) -> Value {
        json!({ "changes": self.edits(edits) })
    }

    /// Edits by the address of their file.
    pub(super) fn edits(&self, edits: &[Edit]) -> BTreeMap<String, Vec<TextEdit>> {
        let mut changes: BTreeMap<String, Vec<TextEdit>> = BTreeMap::new();
        for edit in edits {
            let change = TextEdit { range: self.range(edit.span), new_text: edit.text.clone() };
            changes.entry(self.uri(edit.span.file).0).or_default().push(change);
        }
        changes
    }
}

/// The severities of the rules in each of these files, and the files with an unreadable config file.
fn weights(roots: &[FileId], sources: &Sources, desk: &mut dyn Desk) -> (Levels, Vec<(FileId, String)>) {
    let (mut levels, mut unweighed) = (Levels::default(), Vec::new());
    for file in roots {
        match desk.levels(sources.name(*file)) {
            Ok(own) => levels.set_in(*file, own),
            Err(words) => unweighed.push((*file, words)),
        }
    }
    (levels, unweighed)
}

/// Whether a span holds a byte or ends at it: a cursor after a word is on the word.
pub(super) fn touches(span: Span, file: FileId, byte: u32) -> bool {
    span.file == file && span.start <= byte && byte <= span.end
}
