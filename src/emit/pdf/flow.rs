//! Text wrapped into rows, and rows placed on pages.

use super::super::page::bound;
use super::Faces;
use super::face::Face;

/// The height of a row, in its type size.
const LEADING: f32 = 1.22;

/// Something to draw, in points from the left edge of the text and down from the top of its row.
#[derive(Debug, Clone, PartialEq)]
pub(super) enum Mark {
    /// Text on one line.
    Text { x: f32, y: f32, size: f32, bold: bool, text: String },
    /// A box to tick.
    Box { x: f32, y: f32, side: f32 },
    /// A horizontal rule.
    Rule { x: f32, y: f32, width: f32 },
    /// The picture of this number; `x` is its left edge.
    Picture { x: f32, number: usize },
}

/// Marks that stay together.
#[derive(Debug, Clone, Default)]
pub(super) struct Row {
    pub(super) height: f32,
    pub(super) marks: Vec<Mark>,
    /// Whether the next row must be on the same page.
    pub(super) keeps_next: bool,
}

/// Text with its type.
#[derive(Clone, Copy)]
pub(super) struct Styled<'a> {
    pub(super) text: &'a str,
    pub(super) size: f32,
    pub(super) bold: bool,
}

/// The rows of a column.
pub(super) struct Flow<'a> {
    pub(super) faces: &'a Faces,
    pub(super) width: f32,
    pub(super) rows: Vec<Row>,
}

impl Flow<'_> {
    fn face(&self, bold: bool) -> &Face {
        if bold { &self.faces.bold } else { &self.faces.regular }
    }

    /// The width of a text.
    pub(super) fn wide(&self, styled: Styled<'_>) -> f32 {
        self.face(styled.bold).width(styled.text, styled.size)
    }

    /// Adds space between rows.
    pub(super) fn gap(&mut self, height: f32) {
        self.rows.push(Row { height, marks: Vec::new(), keeps_next: false });
    }

    /// Adds text wrapped between `x` and the right edge; the first row has the marks `before` too.
    pub(super) fn wrapped(&mut self, x: f32, styled: Styled<'_>, mut before: Vec<Mark>) {
        let lines = self.lines(styled, self.width - x);
        let last = lines.len();
        for (line, number) in lines.into_iter().zip(1..) {
            let mut marks = std::mem::take(&mut before);
            marks.push(Mark::Text { x, y: styled.size, size: styled.size, bold: styled.bold, text: line });
            self.rows.push(Row { height: styled.size * LEADING, marks, keeps_next: number < last });
        }
    }

    /// The text in lines of at most this width; a longer word is broken.
    pub(super) fn lines(&self, styled: Styled<'_>, width: f32) -> Vec<String> {
        let face = self.face(styled.bold);
        let mut lines = vec![String::new()];
        for word in bound(styled.text).split(' ') {
            let tried = match lines.last() {
                Some(line) if !line.is_empty() => format!("{line} {word}"),
                Some(_) | None => word.to_owned(),
            };
            if face.width(&tried, styled.size) <= width {
                lines.pop();
                lines.push(tried);
                continue;
            }
            if lines.last().is_some_and(String::is_empty) {
                lines.pop();
            }
            lines.extend(broken(face, word, styled.size, width));
        }
        lines.iter().map(|line| line.replace('\u{a0}', " ")).collect()
    }

    /// Keeps the last row on one page with the next.
    pub(super) fn keep(&mut self) {
        if let Some(row) = self.rows.last_mut() {
            row.keeps_next = true;
        }
    }
}

/// A word in pieces of at most this width.
fn broken(face: &Face, word: &str, size: f32, width: f32) -> Vec<String> {
    let mut pieces = vec![String::new()];
    let mut taken = 0.0;
    for letter in word.chars() {
        let wide = face.width(letter.encode_utf8(&mut [0; 4]), size);
        if taken + wide > width && taken > 0.0 {
            pieces.push(String::new());
            taken = 0.0;
        }
        taken += wide;
        if let Some(piece) = pieces.last_mut() {
            piece.push(letter);
        }
    }
    pieces
}

/// The rows on pages of this height, each with its distance from the top.
pub(super) fn pages(rows: &[Row], height: f32) -> Vec<Vec<(f32, &Row)>> {
    let mut pages: Vec<Vec<(f32, &Row)>> = vec![Vec::new()];
    let mut down = 0.0;
    let mut rest = rows;
    while !rest.is_empty() {
        let kept = rest.iter().take_while(|row| row.keeps_next).count() + 1;
        let (group, behind) = rest.split_at(kept.min(rest.len()));
        let high: f32 = group.iter().map(|row| row.height).sum();
        if down + high > height && down > 0.0 {
            pages.push(Vec::new());
            down = 0.0;
        }
        for row in group {
            // A group higher than a page is split between rows.
            if down + row.height > height && down > 0.0 {
                pages.push(Vec::new());
                down = 0.0;
            }
            if let Some(page) = pages.last_mut() {
                page.push((down, row));
            }
            down += row.height;
        }
        rest = behind;
    }
    pages
}
