//! A card on paper: one sheet that hangs beside the sink. The words can be selected and searched, the type
//! is as large as the sheet allows, and nothing in the file depends on when or where it was made.

mod document;
mod embed;
mod face;
mod flow;
mod layout;
mod paper;
mod picture;

use self::document::Laid;
use self::face::Face;
use self::flow::Row;
pub use self::paper::Paper;
use self::picture::Hung;
use super::card::Card;
use super::picture::Drawing;

/// Type sizes that are tried, in quarters of a point, the largest first.
const QUARTERS_MOST: u16 = 48;
const QUARTERS_LEAST: u16 = 16;
/// How much of the width stays free at the left, and at the right for notes.
const EDGE: f32 = 0.055;
const NOTES: f32 = 0.16;
/// And between two columns.
const BETWEEN: f32 = 0.025;

/// The type is made no smaller than this for a picture, in quarters of a point: what is read at arm's length
/// comes first. Common practice, no source.
const QUARTERS_BESIDE: u16 = 32;
/// A picture's words are set no smaller than this, in points, or it is left out.
const WORDS_LEAST: f32 = 6.0;

/// A card that is to be set.
#[derive(Clone, Copy)]
struct Job<'a> {
    card: &'a Card,
    faces: (&'a Face, &'a Face),
    paper: Paper,
}

/// How it is set.
struct Setting<'a> {
    pictures: &'a [Hung<'a>],
    columns: u8,
    quarters: u16,
}

/// The card as a PDF document, in one column or two, whichever lets the type be larger, and in the largest
/// type with which it takes no more pages than it should. As many of the pictures, the first first, are on it
/// as leave the type large enough.
#[must_use]
pub fn pdf(card: &Card, pictures: &[Drawing], paper: Paper) -> Vec<u8> {
    let job = Job { card, faces: (&Face::regular(), &Face::bold()), paper };
    let hung = hung(pictures, paper);
    let with = (1..=hung.len()).rev().filter_map(|count| hung.get(..count));
    let with = with.map(|few| job.largest_of_both(few)).find(|setting| setting.quarters >= QUARTERS_BESIDE);
    let set = with.unwrap_or_else(|| job.largest_of_both(&[]));
    let rows = job.rows(set.pictures, set.columns, set.quarters.max(QUARTERS_LEAST));
    let laid = flow::pages(&rows, room(paper).1);
    let size = paper.size();
    let step = column(paper, set.columns) + size.0 * BETWEEN;
    let pages = laid.chunks(set.columns.into()).map(|page| (0_u8..).zip(page));
    let pages = pages.map(|page| page.map(|(at, rows)| (f32::from(at) * step, rows.as_slice())).collect());
    let laid = Laid {
        title: &card.title,
        size,
        edge: size.0 * EDGE,
        notes: size.0 * (1.0 - NOTES * 0.85),
        pictures: set.pictures,
        pages: pages.collect(),
    };
    document::written(&laid, job.faces)
}

/// The pictures as wide as one of two columns; none where that is too narrow for their words.
fn hung(pictures: &[Drawing], paper: Paper) -> Vec<Hung<'_>> {
    let all = pictures.iter().map(|picture| Hung::new(picture, column(paper, 2)));
    all.take_while(|hung| hung.words_size() >= WORDS_LEAST && hung.height() <= room(paper).1).collect()
}

impl Job<'_> {
    fn largest_of_both<'a>(&self, pictures: &'a [Hung<'a>]) -> Setting<'a> {
        let (one, two) = (self.largest(pictures, 1), self.largest(pictures, 2));
        let (columns, quarters) = if one < two { (2, two) } else { (1, one) };
        Setting { pictures, columns, quarters }
    }

    /// The largest type, in quarters of a point, with which it fits; 0 if even the smallest is too large.
    fn largest(&self, pictures: &[Hung<'_>], columns: u8) -> u16 {
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

    fn rows(&self, pictures: &[Hung<'_>], columns: u8, quarters: u16) -> Vec<Row> {
        let width = column(self.paper, columns);
        layout::rows((self.card, pictures), self.faces, (width, f32::from(quarters) / 4.0), 3 - columns)
    }
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
