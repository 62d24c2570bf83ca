//! The texts that a run has read, spans in these texts, and the conversion of byte offsets into lines and columns.

use super::{Map, Set};
use std::ops::Range;

/// The number of a file in [`Sources`].
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Default)]
pub struct FileId(pub u32);

/// A range of bytes in one file, without the byte at `end`. `start` and `end` are at boundaries of characters.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Default)]
pub struct Span {
    /// The file that contains the bytes.
    pub file: FileId,
    /// The index of the first byte.
    pub start: u32,
    /// The index of the byte after the last one.
    pub end: u32,
}

impl Span {
    /// The smallest span that has both spans in it; `self` if they are in different files.
    pub fn to(self, other: Span) -> Span {
        if self.file != other.file {
            return self;
        }
        Span { file: self.file, start: self.start.min(other.start), end: self.end.max(other.end) }
    }

    /// The empty span at the end of this span, to report that something is missing there.
    pub fn after(self) -> Span {
        Span { start: self.end, ..self }
    }

    /// Whether `other` begins in this span or directly at its end.
    pub fn holds(self, other: Span) -> bool {
        self.file == other.file && self.start <= other.start && other.start <= self.end
    }

    /// The part of `text` in this span; `text` is the whole text of the span's file. Empty if the text is too short.
    pub fn slice(self, text: &str) -> &str {
        text.get(self.range()).unwrap_or("")
    }

    /// The span as a range of byte indices in the file's text.
    pub fn range(self) -> Range<usize> {
        self.start as usize..self.end as usize
    }
}

/// The files that one run of the program has read, in the order of reading.
#[derive(Debug, Default)]
pub struct Sources {
    files: Vec<SourceFile>,
    ids: Map<String, FileId>,
    used: Set<FileId>,
}

/// One file: its name, and its text without a byte-order mark.
#[derive(Debug)]
pub struct SourceFile {
    /// The name of the file.
    pub name: String,
    /// The text of the file.
    pub text: String,
    /// For each line, the index of its first byte.
    pub line_starts: Vec<u32>,
}

/// A line and a column of a text. Both count from 1, and columns count characters.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub struct Place {
    /// The number of the line.
    pub line: usize,
    /// The number of the character in the line.
    pub column: usize,
}

impl Sources {
    /// Adds a file with a text of less than 4 GiB, and returns the file's number.
    pub fn add(&mut self, name: impl Into<String>, text: impl Into<String>) -> FileId {
        let id = FileId(u32::try_from(self.files.len()).unwrap_or(u32::MAX));
        let name = name.into();
        self.ids.insert(name.clone(), id);
        self.files.push(SourceFile::new(name, text.into()));
        id
    }

    /// The number of the file with this name; `None` if these sources have no such file.
    pub fn id(&self, name: &str) -> Option<FileId> {
        self.ids.get(name).copied()
    }

    /// Records that another file has a `use` statement for this file.
    pub(crate) fn uses(&mut self, file: FileId) {
        self.used.insert(file);
    }

    /// The files for which another file has a `use` statement.
    pub fn used(&self) -> impl Iterator<Item = FileId> {
        self.used.iter().copied()
    }

    /// The file with this number; `None` if these sources have no such file.
    pub fn get(&self, id: FileId) -> Option<&SourceFile> {
        self.files.get(id.0 as usize)
    }

    /// The name of a file; empty if these sources have no such file.
    pub fn name(&self, id: FileId) -> &str {
        self.get(id).map_or("", |file| file.name.as_str())
    }

    /// The text of a file; empty if these sources have no such file.
    pub fn text(&self, id: FileId) -> &str {
        self.get(id).map_or("", |file| file.text.as_str())
    }

    /// The text in a span; empty if these sources have no such file.
    pub fn slice(&self, span: Span) -> &str {
        span.slice(self.text(span.file))
    }

    /// The line and column where a span begins.
    pub fn place(&self, span: Span) -> Place {
        self.get(span.file).map_or(Place { line: 1, column: 1 }, |file| file.place(span.start as usize))
    }

    /// All files with their numbers, in the order of reading.
    pub fn iter(&self) -> impl Iterator<Item = (FileId, &SourceFile)> {
        (0u32..).map(FileId).zip(&self.files)
    }
}

impl SourceFile {
    fn new(name: String, text: String) -> SourceFile {
        // Reserves memory for lines of about 20 bytes.
        let mut line_starts = Vec::with_capacity(text.len() / 20 + 1);
        line_starts.push(0);
        let ends = text.match_indices('\n').filter_map(|(at, _)| u32::try_from(at + 1).ok());
        line_starts.extend(ends);
        SourceFile { name, text, line_starts }
    }

    fn place(&self, byte: usize) -> Place {
        let line = self.line_starts.partition_point(|start| *start as usize <= byte).max(1);
        let start = self.line_starts.get(line - 1).map_or(0, |start| *start as usize);
        let before = self.text.get(start..byte.min(self.text.len())).unwrap_or("");
        Place { line, column: before.chars().count() + 1 }
    }
}
