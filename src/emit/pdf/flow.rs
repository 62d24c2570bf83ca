//! Rows that flow down a sheet: words are measured, wrapped and set into rows, rows are laid on pages.

use super::super::page::bound;
use super::face::Face;

/// How high a row is, in its type size.
const LEADING: f32 = 1.22;

/// A thing on a page: points from the left edge of the text and, downwards, from the top of its row.
#[derive(Debug, Clone, PartialEq)]
pub(super) enum Mark {
    /// Words on their line.
    Words { x: f32, y: f32, size: f32, bold: bool, text: String },
    /// A box to tick.
    Box { x: f32, y: f32, side: f32 },
    /// A rule across.
    Rule { x: f32, y: f32, width: f32 },
    /// The picture of that number, hung by its upper left corner.
    Picture { x: f32, number: usize },
}

/// Things that stay together.
#[derive(Debug, Clone, Default)]
pub(super) struct Row {
    pub(super) height: f32,
    pub(super) marks: Vec<Mark>,
    /// Whether the next row has to be on the same page.
    pub(super) keeps_next: bool,
}

/// Words, and how they are set.
#[derive(Clone, Copy)]
pub(super) struct Set<'a> {
    pub(super) text: &'a str,
    pub(super) size: f32,
    pub(super) bold: bool,
}

/// Rows being made, in a column of this width.
pub(super) struct Flow<'a> {
    pub(super) regular: &'a Face,
    pub(super) bold: &'a Face,
    pub(super) width: f32,
    pub(super) rows: Vec<Row>,
}

impl Flow<'_> {
    pub(super) fn face(&self, bold: bool) -> &Face {
        if bold { self.bold } else { self.regular }
    }

    /// How wide these words are.
    pub(super) fn wide(&self, set: Set<'_>) -> f32 {
        self.face(set.bold).width(set.text, set.size)
    }

    /// Room between rows.
    pub(super) fn gap(&mut self, height: f32) {
        self.rows.push(Row { height, marks: Vec::new(), keeps_next: false });
    }

    /// Words wrapped from `x` on to the right edge; what stands before them on the first row comes along.
    pub(super) fn wrapped(&mut self, x: f32, set: Set<'_>, mut before: Vec<Mark>) {
        let lines = self.lines(set, self.width - x);
        let last = lines.len();
        for (line, number) in lines.into_iter().zip(1..) {
            let mut marks = std::mem::take(&mut before);
            marks.push(Mark::Words { x, y: set.size, size: set.size, bold: set.bold, text: line });
            self.rows.push(Row { height: set.size * LEADING, marks, keeps_next: number < last });
        }
    }

    /// The words in lines of at most this width; a word that is longer is broken.
    pub(super) fn lines(&self, set: Set<'_>, width: f32) -> Vec<String> {
        let face = self.face(set.bold);
        let mut lines = vec![String::new()];
        for word in bound(set.text).split(' ') {
            let tried = match lines.last() {
                Some(line) if !line.is_empty() => format!("{line} {word}"),
                Some(_) | None => word.to_owned(),
            };
            if face.width(&tried, set.size) <= width {
                lines.pop();
                lines.push(tried);
                continue;
            }
            if lines.last().is_some_and(String::is_empty) {
                lines.pop();
            }
            lines.extend(broken(face, word, (set.size, width)));
        }
        lines.iter().map(|line| line.replace('\u{a0}', " ")).collect()
    }

    /// The last row and the next stay on one page.
    pub(super) fn keep(&mut self) {
        if let Some(row) = self.rows.last_mut() {
            row.keeps_next = true;
        }
    }
}

/// A word in pieces of at most that width.
fn broken(face: &Face, word: &str, (size, width): (f32, f32)) -> Vec<String> {
    let mut pieces = vec![String::new()];
    let mut taken = 0.0;
    for letter in word.chars() {
        let wide = face.advance(face.glyph(letter)) * size / 1000.0;
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

/// The rows on pages of this height, each row with how far down it begins.
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
            // What is higher than a page goes on by the row.
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
