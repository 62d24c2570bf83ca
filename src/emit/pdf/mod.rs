//! A card on paper: one sheet that hangs beside the sink. The words can be selected and searched, the type
//! is as large as the sheet allows, and nothing in the file depends on when or where it was made.

mod embed;
mod face;
mod flow;
mod layout;
mod paper;

use pdf_writer::{Content, Finish as _, Name, Pdf, Rect, Ref, Str, TextStr};

use self::embed::Embedded;
use self::face::Face;
use self::flow::{Mark, Row};
pub use self::paper::Paper;
use super::card::Card;

/// Type sizes that are tried, in quarters of a point, the largest first.
const QUARTERS_MOST: u16 = 48;
const QUARTERS_LEAST: u16 = 16;
/// How much of the width stays free at the left, and at the right for notes.
const EDGE: f32 = 0.055;
const NOTES: f32 = 0.16;

const CATALOG: Ref = Ref::new(1);
const PAGES: Ref = Ref::new(2);
const INFO: Ref = Ref::new(3);
const REGULAR: i32 = 4;
const BOLD: i32 = 9;
const FIRST_PAGE: i32 = 14;

/// The card as a PDF document, in the largest type with which it takes no more pages than it should.
#[must_use]
pub fn pdf(card: &Card, paper: Paper) -> Vec<u8> {
    let faces = (Face::regular(), Face::bold());
    let (width, height) = paper.size();
    let room = (width * (1.0 - EDGE - NOTES), height - width * EDGE * 2.0);
    let mut sizes = (QUARTERS_LEAST..=QUARTERS_MOST).rev().map(|quarters| f32::from(quarters) / 4.0);
    let set = |size| layout::rows(card, (&faces.0, &faces.1), (room.0, size));
    let fits = |rows: &Vec<Row>| flow::pages(rows, room.1).len() <= paper.pages();
    let rows = sizes.find_map(|size| Some(set(size)).filter(fits));
    let rows = rows.unwrap_or_else(|| set(f32::from(QUARTERS_LEAST) / 4.0));
    written(card, paper, (&faces.0, &faces.1), &flow::pages(&rows, room.1))
}

fn written(card: &Card, paper: Paper, faces: (&Face, &Face), pages: &[Vec<(f32, &Row)>]) -> Vec<u8> {
    let (width, height) = paper.size();
    let (mut regular, mut bold) = (Embedded::of(faces.0), Embedded::of(faces.1));
    let mut pdf = Pdf::new();
    pdf.catalog(CATALOG).pages(PAGES).lang(TextStr("en"));
    pdf.document_info(INFO).title(TextStr(&card.title));
    let numbers: Vec<(Ref, Ref)> = (FIRST_PAGE..)
        .step_by(2)
        .zip(pages)
        .map(|(number, _)| (Ref::new(number), Ref::new(number + 1)))
        .collect();
    let count = i32::try_from(numbers.len()).unwrap_or(i32::MAX);
    pdf.pages(PAGES).kids(numbers.iter().map(|(page, _)| *page)).count(count);
    for ((number, content), rows) in numbers.iter().zip(pages) {
        let mut page = pdf.page(*number);
        page.media_box(Rect::new(0.0, 0.0, width, height)).parent(PAGES).contents(*content);
        let mut resources = page.resources();
        let mut fonts = resources.fonts();
        fonts.pair(Name(b"R"), Ref::new(REGULAR)).pair(Name(b"B"), Ref::new(BOLD));
        fonts.finish();
        resources.finish();
        page.finish();
        let drawn = drawn(rows, (width, height), (&mut regular, &mut bold));
        pdf.stream(*content, &drawn);
    }
    regular.write(&mut pdf, REGULAR);
    bold.write(&mut pdf, BOLD);
    pdf.finish()
}

/// What is on one page, in the language of PDF, in which up is up.
fn drawn(
    rows: &[(f32, &Row)],
    (width, height): (f32, f32),
    (regular, bold): (&mut Embedded<'_>, &mut Embedded<'_>),
) -> Vec<u8> {
    let (left, top) = (width * EDGE, height - width * EDGE);
    let mut page = Content::new();
    let notes = width * (1.0 - NOTES * 0.85);
    page.set_line_width(0.4).move_to(notes, width * EDGE).line_to(notes, top).stroke();
    for (down, row) in rows {
        for mark in &row.marks {
            match mark {
                Mark::Words { x, y, size, bold: is_bold, text } => {
                    let (name, face) =
                        if *is_bold { (b"B", &mut *bold) } else { (b"R", &mut *regular) };
                    page.begin_text().set_font(Name(name), *size).next_line(left + x, top - down - y);
                    page.show(Str(&face.encoded(text))).end_text();
                }
                Mark::Box { x, y, side } => {
                    page.set_line_width(0.6).rect(left + x, top - down - y, *side, *side).stroke();
                }
                Mark::Rule { x, y, width } => {
                    let y = top - down - y;
                    page.set_line_width(0.6).move_to(left + x, y).line_to(left + x + width, y).stroke();
                }
            }
        }
    }
    page.finish().into_vec()
}
