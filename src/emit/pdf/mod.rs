//! A card on paper: one sheet that hangs beside the sink. The words can be selected and searched, the type
//! is as large as the sheet allows, and nothing in the file depends on when or where it was made.

mod document;
mod embed;
mod face;
mod flow;
mod layout;
mod paper;

use self::document::Laid;
use self::face::Face;
use self::flow::Row;
pub use self::paper::Paper;
use super::card::Card;

/// Type sizes that are tried, in quarters of a point, the largest first.
const QUARTERS_MOST: u16 = 48;
const QUARTERS_LEAST: u16 = 16;
/// How much of the width stays free at the left, and at the right for notes.
const EDGE: f32 = 0.055;
const NOTES: f32 = 0.16;
/// And between two columns.
const BETWEEN: f32 = 0.025;

/// The card as a PDF document, in one column or two, whichever lets the type be larger, and in the largest
/// type with which it takes no more pages than it should.
#[must_use]
pub fn pdf(card: &Card, paper: Paper) -> Vec<u8> {
    let faces = (&Face::regular(), &Face::bold());
    let one = largest(card, faces, (paper, 1));
    let two = largest(card, faces, (paper, 2));
    let (columns, quarters) = if one < two { (2, two) } else { (1, one) };
    let rows = rows(card, faces, (paper, columns), quarters.max(QUARTERS_LEAST));
    let laid = flow::pages(&rows, room(paper).1);
    let size = paper.size();
    let step = column(paper, columns) + size.0 * BETWEEN;
    let pages = laid.chunks(columns.into()).map(|page| (0_u8..).zip(page));
    let pages = pages.map(|page| page.map(|(at, rows)| (f32::from(at) * step, rows.as_slice())).collect());
    let laid = Laid {
        title: &card.title,
        size,
        edge: size.0 * EDGE,
        notes: size.0 * (1.0 - NOTES * 0.85),
        pages: pages.collect(),
    };
    document::written(&laid, faces)
}

/// The largest type, in quarters of a point, with which the card fits; 0 if even the smallest is too large.
fn largest(card: &Card, faces: (&Face, &Face), (paper, columns): (Paper, u8)) -> u16 {
    let fits = |quarters: u16| {
        let rows = rows(card, faces, (paper, columns), quarters);
        flow::pages(&rows, room(paper).1).len() <= paper.pages() * usize::from(columns)
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

fn rows(card: &Card, faces: (&Face, &Face), (paper, columns): (Paper, u8), quarters: u16) -> Vec<Row> {
    let width = column(paper, columns);
    layout::rows(card, faces, (width, f32::from(quarters) / 4.0), 3 - columns)
}

/// Width and height of what is printed on.
fn room(paper: Paper) -> (f32, f32) {
    let (width, height) = paper.size();
    (width * (1.0 - EDGE - NOTES), height - width * EDGE * 2.0)
}

/// How wide one column is.
fn column(paper: Paper, columns: u8) -> f32 {
    let between = paper.size().0 * BETWEEN;
    (room(paper).0 + between) / f32::from(columns) - between
}
