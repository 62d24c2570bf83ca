//! A card as PDF: one sheet to hang beside the sink, in the largest type that fits. Its text can be searched, and the
//! same card always gives the same bytes.

mod blocks;
mod labels;
mod layout;
mod table;
mod writer;

use dejavu::sans_condensed;

pub use self::labels::labels_pdf;
use self::layout::Row;
use self::writer::{Column, Edge, Face, Placed, written};
use super::card::{Card, card};
use super::picture::{Drawing, pictures};
use crate::compile::Schedule;
use crate::source::Sources;

/// The type sizes to try, in quarter points.
const QUARTERS: std::ops::RangeInclusive<u8> = 16..=48;
/// The least type size, in points.
const LEAST: f32 = 4.0;
/// The least type size beside pictures, in points: readable at arm's length. Common practice, no source.
const LEAST_BESIDE: f32 = 8.0;
/// The least size of a picture's text, in points.
const PICTURE_TEXT_LEAST: f32 = 6.0;
/// The left margin, as a part of the paper's width.
const EDGE: f32 = 0.055;
/// The right margin, for notes by hand, as a part of the paper's width.
const NOTES: f32 = 0.16;
/// The gap between columns, as a part of the paper's width.
const BETWEEN: f32 = 0.025;

struct Faces {
    regular: Face,
    bold: Face,
}

struct Job<'a> {
    card: &'a Card,
    faces: &'a Faces,
    paper: Paper,
    /// Whether the cautions are on the back of the sheet.
    has_cautions_behind: bool,
}

/// The pictures, the number of columns and the type size of a card. The size is `None` if the card fits in no size.
struct Setting<'a> {
    pictures: &'a [Placed<'a>],
    columns: u8,
    size: Option<f32>,
}

/// The card as a PDF, in one or two columns, whichever allows larger type. Pictures are added in order as long as the
/// type stays readable.
pub fn pdf(schedule: &Schedule, sources: &Sources, paper: Paper) -> Vec<u8> {
    let (card, drawings) = (card(schedule, sources), pictures(schedule));
    let faces = faces();
    let mut job = Job { card: &card, faces: &faces, paper, has_cautions_behind: false };
    let placed = placed(&drawings, paper);
    let with = (1..=placed.len()).rev().filter_map(|count| placed.get(..count));
    let with =
        with.map(|first| job.largest_of_both(first)).find(|setting| setting.size >= Some(LEAST_BESIDE));
    let mut set = with.unwrap_or_else(|| job.largest_of_both(&[]));
    if set.size < Some(LEAST_BESIDE) {
        job.has_cautions_behind = true;
        set = job.largest_of_both(&[]);
    }
    let rows = job.rows(set.pictures, set.columns, set.size.unwrap_or(LEAST));
    let columns = self::columns(&rows, paper.room().1);
    let step = paper.column(set.columns) + paper.size().0 * BETWEEN;
    let back = job.back();
    let back = self::columns(&back, paper.room().1);
    let front = columns.chunks(set.columns.into());
    let front = front.map(|page| [0.0, step].into_iter().zip(page).collect());
    let pages: Vec<Vec<_>> =
        front.chain(back.iter().filter(|page| !page.is_empty()).map(|page| vec![(0.0, page)])).collect();
    written(&card.title, paper, Edge { margin: paper.edge(), has_notes: true }, &pages, faces)
}

fn faces() -> Faces {
    Faces {
        regular: Face::of(sans_condensed::regular(), "WETSID+CardSans"),
        bold: Face::of(sans_condensed::bold(), "WETSID+CardSans-Bold"),
    }
}

/// The pictures, each as wide as one of two columns. The list ends before the first picture that is too high or whose
/// text is too small.
fn placed(drawings: &[Drawing], paper: Paper) -> Vec<Placed<'_>> {
    let all = drawings.iter().map(|drawing| Placed::new(drawing, paper.column(2)));
    all.take_while(|one| one.text_size() >= PICTURE_TEXT_LEAST && one.height() <= paper.room().1).collect()
}

impl Job<'_> {
    fn largest_of_both<'a>(&self, pictures: &'a [Placed<'a>]) -> Setting<'a> {
        let setting = |columns| Setting { pictures, columns, size: self.largest(pictures, columns) };
        let (one, two) = (setting(1), setting(2));
        if one.size < two.size { two } else { one }
    }

    /// The largest type size in which the card fits, in points.
    fn largest(&self, pictures: &[Placed<'_>], columns: u8) -> Option<f32> {
        let sizes: Vec<f32> = QUARTERS.map(|quarters| f32::from(quarters) / 4.0).collect();
        let fitting = sizes.partition_point(|size| {
            let rows = self.rows(pictures, columns, *size);
            self::columns(&rows, self.paper.room().1).len() <= self.paper.pages() * usize::from(columns)
        });
        sizes.get(fitting.checked_sub(1)?).copied()
    }

    /// The rows of first aid in the largest type in which they fit on a page; none without first aid.
    fn back<'p>(&self) -> Vec<Row<'p>> {
        if self.card.first_aid.is_empty() && !self.has_cautions_behind {
            return Vec::new();
        }
        let behind = self.has_cautions_behind;
        let rows = |size| layout::back(self.card, behind, self.faces, (self.paper.column(1), size));
        let sizes = QUARTERS.rev().map(|quarters| f32::from(quarters) / 4.0);
        let fits = |size: &f32| columns(&rows(*size), self.paper.room().1).len() <= 1;
        rows(sizes.clone().find(fits).unwrap_or(LEAST))
    }

    fn rows<'p>(&self, pictures: &[Placed<'p>], columns: u8, size: f32) -> Vec<Row<'p>> {
        let caution_columns = if self.has_cautions_behind { 0 } else { usize::from(3 - columns) };
        layout::rows(self.card, pictures, self.faces, (self.paper.column(columns), size), caution_columns)
    }
}

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
    /// The size of body text, in points: readable at arm's length. Common practice, no source.
    fn body(self) -> f32 {
        10.0
    }

    /// The margin of a document on all sides, in points: 12 mm, on small paper 8 mm.
    fn margin(self) -> f32 {
        if self.size().0 > 500.0 { 34.0 } else { 22.7 }
    }

    /// The name of the size.
    pub fn name(self) -> &'static str {
        match self {
            Paper::A4 => "A4",
            Paper::Letter => "Letter",
            Paper::A5 => "A5",
            Paper::A6 => "A6",
        }
    }

    /// The width and height, in points of 1/72 inch.
    fn size(self) -> (f32, f32) {
        match self {
            Paper::A4 => (595.28, 841.89),
            Paper::Letter => (612.0, 792.0),
            Paper::A5 => (419.53, 595.28),
            Paper::A6 => (297.64, 419.53),
        }
    }

    /// The number of pages on which a card should fit.
    fn pages(self) -> usize {
        if self == Paper::A6 { 2 } else { 1 }
    }

    fn edge(self) -> f32 {
        self.size().0 * EDGE
    }

    /// The width and height of the printed area, in points.
    fn room(self) -> (f32, f32) {
        let (width, height) = self.size();
        (width * (1.0 - EDGE - NOTES), height - width * EDGE * 2.0)
    }

    fn column(self, columns: u8) -> f32 {
        let between = self.size().0 * BETWEEN;
        (self.room().0 + between) / f32::from(columns) - between
    }
}
