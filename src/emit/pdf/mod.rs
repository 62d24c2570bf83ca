//! A card as PDF: one sheet to hang beside the sink, in the largest type that fits. Its text can be selected and
//! searched, and the same card gives the same bytes everywhere.

mod document;
mod face;
mod flow;
mod layout;

use self::document::{Layout, Placed, document};
use self::face::Face;
use self::flow::Row;
use self::layout::Type;
use super::card::Card;
use super::picture::Drawing;

/// The range of type sizes, in quarters of a point.
const QUARTERS_MOST: u16 = 48;
const QUARTERS_LEAST: u16 = 16;
/// The margins at the left, and at the right for notes, as a part of the width.
const EDGE: f32 = 0.055;
const NOTES: f32 = 0.16;
/// The space between two columns.
const BETWEEN: f32 = 0.025;

/// The least type size beside pictures, in quarters of a point: readable at arm's length. Common practice, no source.
const QUARTERS_BESIDE: u16 = 32;
/// A picture with smaller text, in points, is left out.
const PICTURE_TEXT_LEAST: f32 = 6.0;

struct Faces {
    regular: Face,
    bold: Face,
}

struct Job<'a> {
    card: &'a Card,
    faces: Faces,
    paper: Paper,
}

/// How a card is set.
struct Setting<'a> {
    pictures: &'a [Placed<'a>],
    columns: u8,
    quarters: u16,
}

/// The card as a PDF, in one column or two, whichever allows larger type on the pages of the paper. It has as many
/// of the pictures, in order, as leave the type large enough.
#[must_use]
pub fn pdf(card: &Card, pictures: &[Drawing], paper: Paper) -> Vec<u8> {
    let job = Job { card, faces: Faces { regular: Face::regular(), bold: Face::bold() }, paper };
    let placed = placed(pictures, paper);
    let with = (1..=placed.len()).rev().filter_map(|count| placed.get(..count));
    let with =
        with.map(|first| job.largest_of_both(first)).find(|setting| setting.quarters >= QUARTERS_BESIDE);
    let set = with.unwrap_or_else(|| job.largest_of_both(&[]));
    let rows = job.rows(set.pictures, set.columns, set.quarters.max(QUARTERS_LEAST));
    let laid = flow::pages(&rows, room(paper).1);
    let size = paper.size();
    let step = column(paper, set.columns) + size.0 * BETWEEN;
    let pages = laid.chunks(set.columns.into()).map(|page| (0_u8..).zip(page));
    let pages = pages.map(|page| page.map(|(at, rows)| (f32::from(at) * step, rows.as_slice())).collect());
    let layout = Layout {
        title: &card.title,
        size,
        edge: size.0 * EDGE,
        notes: size.0 * (1.0 - NOTES * 0.85),
        pictures: set.pictures,
        pages: pages.collect(),
    };
    document(&layout, &job.faces)
}

/// The first pictures that are readable in one of two columns.
fn placed(pictures: &[Drawing], paper: Paper) -> Vec<Placed<'_>> {
    let all = pictures.iter().map(|picture| Placed::new(picture, column(paper, 2)));
    all.take_while(|one| one.text_size() >= PICTURE_TEXT_LEAST && one.height() <= room(paper).1).collect()
}

impl Job<'_> {
    fn largest_of_both<'a>(&self, pictures: &'a [Placed<'a>]) -> Setting<'a> {
        let (one, two) = (self.largest(pictures, 1), self.largest(pictures, 2));
        let (columns, quarters) = if one < two { (2, two) } else { (1, one) };
        Setting { pictures, columns, quarters }
    }

    /// The largest type size that fits, in quarters of a point; 0 if none does.
    fn largest(&self, pictures: &[Placed<'_>], columns: u8) -> u16 {
        let fits = |quarters: u16| {
            let rows = self.rows(pictures, columns, quarters);
            flow::pages(&rows, room(self.paper).1).len() <= self.paper.pages() * usize::from(columns)
        };
        if !fits(QUARTERS_LEAST) {
            return 0;
        }
        let (mut does, mut does_not) = (QUARTERS_LEAST, QUARTERS_MOST + 1);
        while does + 1 < does_not {
            let tried = does.midpoint(does_not);
            if fits(tried) { does = tried } else { does_not = tried }
        }
        does
    }

    fn rows(&self, pictures: &[Placed<'_>], columns: u8, quarters: u16) -> Vec<Row> {
        let (width, size) = (column(self.paper, columns), f32::from(quarters) / 4.0);
        layout::rows(self.card, pictures, &self.faces, &Type { width, size, caution_columns: 3 - columns })
    }
}

/// Width and height of the printed area.
fn room(paper: Paper) -> (f32, f32) {
    let (width, height) = paper.size();
    (width * (1.0 - EDGE - NOTES), height - width * EDGE * 2.0)
}

/// The width of a column.
fn column(paper: Paper, columns: u8) -> f32 {
    let between = paper.size().0 * BETWEEN;
    (room(paper).0 + between) / f32::from(columns) - between
}

/// A size of paper (ISO 216; Letter as in ANSI/ASME Y14.1).
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
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
    /// Width and height, in points of 1/72 inch.
    fn size(self) -> (f32, f32) {
        match self {
            Paper::A4 => (595.28, 841.89),
            Paper::Letter => (612.0, 792.0),
            Paper::A5 => (419.53, 595.28),
            Paper::A6 => (297.64, 419.53),
        }
    }

    /// The most pages that a card should have.
    fn pages(self) -> usize {
        match self {
            Paper::A6 => 2,
            _ => 1,
        }
    }
}
