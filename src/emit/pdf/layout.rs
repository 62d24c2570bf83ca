//! The rows of a document on paper, and the marks that are drawn in a row.

use super::Faces;
use super::writer::Placed;
use crate::compile::{SAFETY_HEADING, SafetyLine};
use crate::emit::link::Code;
use crate::emit::plain::{broken, joined};
use crate::source::Set;

/// Something to draw. Positions are in points from the left edge and the top of the row.
pub(super) enum Mark<'a> {
    Text {
        x: f32,
        y: f32,
        font: Font,
        text: String,
    },
    Box {
        x: f32,
        y: f32,
        side: f32,
    },
    /// A rectangle to cut along.
    Frame {
        x: f32,
        y: f32,
        width: f32,
        height: f32,
    },
    Rule {
        y: f32,
        width: f32,
    },
    /// A dashed line to cut along.
    Cut {
        y: f32,
        width: f32,
    },
    /// A vertical line down from the point `x`, `y`.
    Upright {
        x: f32,
        y: f32,
        height: f32,
    },
    /// A line of white text on a black ground.
    Band {
        y: f32,
        width: f32,
        font: Font,
        text: String,
    },
    Picture {
        x: f32,
        picture: Placed<'a>,
    },
    /// A QR code; `side` is the length of its sides.
    Code {
        side: f32,
        code: Code,
    },
}

impl Mark<'_> {
    /// The lowest point of a text, in points below the row's top; 0 for what is not text.
    pub(super) fn foot(&self) -> f32 {
        match self {
            Mark::Text { y, font, .. } => y + font.size * 0.25,
            _ => 0.0,
        }
    }

    pub(super) fn texts(&self) -> Vec<&str> {
        match self {
            Mark::Text { text, .. } | Mark::Band { text, .. } => vec![text],
            Mark::Picture { picture, .. } => picture.texts().collect(),
            Mark::Box { .. }
            | Mark::Frame { .. }
            | Mark::Rule { .. }
            | Mark::Cut { .. }
            | Mark::Code { .. }
            | Mark::Upright { .. } => Vec::new(),
        }
    }
}

/// A row of marks that stay together on one page.
pub(super) struct Row<'a> {
    pub(super) height: f32,
    pub(super) marks: Vec<Mark<'a>>,
    /// Whether the next row must be on the same page.
    pub(super) keeps_next: bool,
}

#[derive(Clone, Copy)]
pub(super) struct Font {
    pub(super) size: f32,
    pub(super) bold: bool,
}

/// The height of a line of text, as a multiple of its type size.
pub(super) const LEADING: f32 = 1.22;
/// The rows of a document, and the sizes for laying them out, in points.
pub(super) struct Sheet<'a, 'f> {
    faces: &'f Faces,
    pub(super) width: f32,
    pub(super) size: f32,
    pub(super) height: f32,
    pub(super) clock: f32,
    pub(super) rows: Vec<Row<'a>>,
}

impl<'a, 'f> Sheet<'a, 'f> {
    pub(super) fn new(faces: &'f Faces, width: f32, size: f32) -> Sheet<'a, 'f> {
        Sheet { faces, width, size, height: f32::MAX, clock: size * 2.0, rows: Vec::new() }
    }

    pub(super) fn plain(&self) -> Font {
        Font { size: self.size, bold: false }
    }

    pub(super) fn bold(&self, times: f32) -> Font {
        Font { size: self.size * times, bold: true }
    }

    pub(super) fn tick(&self) -> Mark<'a> {
        Mark::Box { x: 0.0, y: self.size, side: self.size * 0.72 }
    }

    pub(super) fn leading(&self) -> f32 {
        self.size * LEADING
    }

    pub(super) fn indent(&self) -> f32 {
        self.size * 1.2
    }

    pub(super) fn wide(&self, text: &str, font: Font) -> f32 {
        let face = if font.bold { &self.faces.bold } else { &self.faces.regular };
        face.width(text, font.size)
    }

    pub(super) fn lines(&self, text: &str, font: Font, width: f32) -> Vec<String> {
        broken(text, |line| self.wide(line, font) <= width)
    }

    /// Adds text, wrapped between `x` and the right edge. The marks `before` are drawn on its first line.
    pub(super) fn wrapped(&mut self, x: f32, text: &str, font: Font, mut before: Vec<Mark<'a>>) {
        for text in self.lines(text, font, self.width - x) {
            let mut marks = std::mem::take(&mut before);
            marks.push(Mark::Text { x, y: font.size, font, text });
            self.push(font.size * LEADING, marks);
            self.keep(true);
        }
        self.keep(false);
    }

    pub(super) fn push(&mut self, height: f32, marks: Vec<Mark<'a>>) {
        self.rows.push(Row { height, marks, keeps_next: false });
    }

    /// Sets whether the next row must be on the same page as the last row added.
    pub(super) fn keep(&mut self, keeps_next: bool) {
        self.rows.iter_mut().rev().take(1).for_each(|last| last.keeps_next = keeps_next);
    }

    pub(super) fn paragraph(&mut self, text: &str) {
        self.wrapped(0.0, text, self.plain(), Vec::new());
    }

    pub(super) fn missing(&mut self, missing: &Set<char>) {
        if !missing.is_empty() {
            let named = missing.iter().map(|letter| format!("U+{:04X}", u32::from(*letter)));
            let text = format!("characters printed as an empty box: {}", joined(named, ", "));
            self.wrapped(0.0, &text, self.bold(1.0), Vec::new());
        }
    }

    pub(super) fn heading(&mut self, title: &str) {
        self.push(self.size * 0.5, Vec::new());
        self.keep(true);
        self.wrapped(0.0, title, self.bold(1.1), Vec::new());
        self.keep(true);
    }

    pub(super) fn safety(&mut self, lines: &[SafetyLine]) {
        let heading = SafetyLine { word: "SAFETY", text: SAFETY_HEADING.to_owned() };
        let (font, bold) = (self.plain(), self.bold(1.0));
        let entries = SafetyLine::entries(lines);
        let lines = || std::iter::once(&heading).chain(&entries);
        let x = lines().map(|line| self.wide(line.word, bold)).fold(0.0, f32::max) + self.size * 0.6;
        self.push(self.size * 0.5, Vec::new());
        for SafetyLine { word, text } in lines() {
            let word = Mark::Text { x: 0.0, y: font.size, font: bold, text: (*word).to_owned() };
            self.wrapped(x, text, font, vec![word]);
        }
    }
}
