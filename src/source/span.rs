//! A place in a file: which file, and from which byte to which.

/// The number of a file in [`super::Sources`]. Later stages never see a path.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct FileId(pub u32);

/// A range of bytes in one file, `start` included, `end` not; both on character boundaries.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Span {
    /// The file.
    pub file: FileId,
    /// The first byte.
    pub start: u32,
    /// The byte after the last.
    pub end: u32,
}

impl Span {
    /// The smallest span over both; the other must be of the same file, else `self` stands.
    #[must_use]
    pub fn to(self, other: Span) -> Span {
        if self.file != other.file {
            return self;
        }
        Span { file: self.file, start: self.start.min(other.start), end: self.end.max(other.end) }
    }

    /// The empty place right behind this one, where something is missing.
    #[must_use]
    pub fn after(self) -> Span {
        Span { start: self.end, ..self }
    }

    /// Whether the other begins within this one.
    #[must_use]
    pub fn holds(self, other: Span) -> bool {
        self.file == other.file && self.start <= other.start && other.start <= self.end
    }

    /// The span as a range of bytes.
    #[must_use]
    pub fn range(self) -> std::ops::Range<usize> {
        self.start as usize..self.end as usize
    }
}
