//! The texts that a run has read. Lines and columns are counted here and nowhere else, by one
//! convention: both from 1, columns in Unicode characters.

use std::collections::{BTreeMap, BTreeSet};

use super::span::{FileId, Span};

/// The files of one run, in the order they were read.
#[derive(Debug, Default)]
pub struct Sources {
    files: Vec<SourceFile>,
    ids: BTreeMap<String, FileId>,
    used: BTreeSet<FileId>,
}

/// One file: the name that people are shown, and its text without a byte-order mark.
#[derive(Debug)]
pub struct SourceFile {
    name: String,
    text: String,
    line_starts: Vec<u32>,
}

/// A line and a column, both from 1; the column counts characters.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub struct Place {
    /// The line.
    pub line: usize,
    /// The column.
    pub column: usize,
}

impl Sources {
    /// Takes a text in and gives it its number. The caller keeps texts under 4 GiB (the edge refuses
    /// anything over 1 MiB).
    pub fn add(&mut self, name: impl Into<String>, text: impl Into<String>) -> FileId {
        let id = FileId(u32::try_from(self.files.len()).unwrap_or(u32::MAX));
        let name = name.into();
        self.ids.insert(name.clone(), id);
        self.files.push(SourceFile::new(name, text.into()));
        id
    }

    /// The number of the file with this name, if it was read.
    #[must_use]
    pub fn id(&self, name: &str) -> Option<FileId> {
        self.ids.get(name).copied()
    }

    /// Notes that another file uses this one.
    pub(crate) fn uses(&mut self, file: FileId) {
        self.used.insert(file);
    }

    /// The files that others use, so far as they were read.
    pub fn used(&self) -> impl Iterator<Item = FileId> {
        self.used.iter().copied()
    }

    /// The file of that number, if this is the collection that gave it.
    #[must_use]
    pub fn get(&self, id: FileId) -> Option<&SourceFile> {
        self.files.get(id.0 as usize)
    }

    /// The name of a file as people are shown it; empty for a file of another collection.
    #[must_use]
    pub fn name(&self, id: FileId) -> &str {
        self.get(id).map_or("", |file| file.name.as_str())
    }

    /// The text of a file; empty for a file of another collection.
    #[must_use]
    pub fn text(&self, id: FileId) -> &str {
        self.get(id).map_or("", |file| file.text.as_str())
    }

    /// The words at a place.
    #[must_use]
    pub fn slice(&self, span: Span) -> &str {
        self.text(span.file).get(span.range()).unwrap_or("")
    }

    /// Where a span begins.
    #[must_use]
    pub fn place(&self, span: Span) -> Place {
        self.get(span.file).map_or(Place { line: 1, column: 1 }, |file| file.place(span.start as usize))
    }

    /// All files with their numbers, in the order they were read.
    pub fn iter(&self) -> impl Iterator<Item = (FileId, &SourceFile)> {
        (0u32..).map(FileId).zip(&self.files)
    }
}

impl SourceFile {
    fn new(name: String, text: String) -> SourceFile {
        // A line has some twenty bytes; what is made room for at once need not grow.
        let mut line_starts = Vec::with_capacity(text.len() / 20 + 1);
        line_starts.push(0);
        let ends = text.match_indices('\n').filter_map(|(at, _)| u32::try_from(at + 1).ok());
        line_starts.extend(ends);
        SourceFile { name, text, line_starts }
    }

    /// The name that people are shown.
    #[must_use]
    pub fn name(&self) -> &str {
        &self.name
    }

    /// The whole text.
    #[must_use]
    pub fn text(&self) -> &str {
        &self.text
    }

    /// The byte at which each line begins.
    #[must_use]
    pub fn line_starts(&self) -> &[u32] {
        &self.line_starts
    }

    fn place(&self, byte: usize) -> Place {
        let line = self.line_starts.partition_point(|start| *start as usize <= byte).max(1);
        let start = self.line_starts.get(line - 1).map_or(0, |start| *start as usize);
        let before = self.text.get(start..byte.min(self.text.len())).unwrap_or("");
        Place { line, column: before.chars().count() + 1 }
    }
}
