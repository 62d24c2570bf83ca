//! Documents and labels as PDF. Their text can be searched, and the same document always gives the same bytes.

mod blocks;
mod labels;
mod layout;
mod table;
mod tank;
mod writer;

use dejavu::sans_condensed;

pub use self::labels::labels_pdf;
use self::layout::Row;

/// The size of body text, in points: readable at arm's length. Common practice, no source.
const BODY: f32 = 10.0;
use self::writer::{Column, Face};

struct Faces {
    regular: Face,
    bold: Face,
}

fn faces() -> Faces {
    Faces {
        regular: Face::of(sans_condensed::regular(), "WETSID+CardSans"),
        bold: Face::of(sans_condensed::bold(), "WETSID+CardSans-Bold"),
    }
}

/// The rows, distributed over pages of this height. Rows that are kept together are on one page if they fit on one.
fn columns<'a>(rows: &'a [Row<'a>], height: f32) -> Vec<Column<'a>> {
    let mut columns = vec![Vec::new()];
    let mut down = 0.0;
    for group in rows.chunk_by(|row, _| row.keeps_next) {
        let whole: f32 = group.iter().map(|row| row.height).sum();
        for (at, row) in group.iter().enumerate() {
            // A group of rows that is higher than a page may be broken after any row.
            let needed = if at == 0 { whole } else { row.height };
            if down + needed > height && down > 0.0 {
                columns.push(Vec::new());
                down = 0.0;
            }
            columns.iter_mut().rev().take(1).for_each(|column| column.push((down, row)));
            down += row.height;
        }
    }
    columns
}

/// A size of paper (ISO 216; Letter as in ANSI/ASME Y14.1).
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
#[cfg_attr(feature = "cli", derive(clap::ValueEnum))]
pub enum Paper {
    /// 210 by 297 mm.
    A4,
    /// 8.5 by 11 inches.
    Letter,
    /// 148 by 210 mm.
    A5,
    /// 105 by 148 mm.
    A6,
}

impl Paper {
    /// The type size of clock times, in points. The time of a step is larger.
    fn clock(self) -> f32 {
        if self.size().0 > 500.0 { 20.0 } else { 15.6 }
    }

    /// The margin of a document on all sides, in points: 9 mm, on small paper 7 mm.
    fn margin(self) -> f32 {
        if self.size().0 > 500.0 { 25.5 } else { 19.8 }
    }

    /// The name of the paper size: `A4`.
    pub fn name(self) -> &'static str {
        match self {
            Paper::A4 => "A4",
            Paper::Letter => "Letter",
            Paper::A5 => "A5",
            Paper::A6 => "A6",
        }
    }

    /// The width and the height of the paper, in points of 1/72 inch.
    fn size(self) -> (f32, f32) {
        match self {
            Paper::A4 => (595.28, 841.89),
            Paper::Letter => (612.0, 792.0),
            Paper::A5 => (419.53, 595.28),
            Paper::A6 => (297.64, 419.53),
        }
    }
}
