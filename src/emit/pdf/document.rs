//! The document itself: its pages in the language of PDF (ISO 32000-1), in which up is up.

use pdf_writer::{Content, Finish as _, Name, Pdf, Rect, Ref, Str, TextStr};

use super::embed::Embedded;
use super::face::Face;
use super::flow::{Mark, Row};
use super::picture::Hung;

const CATALOG: Ref = Ref::new(1);
const PAGES: Ref = Ref::new(2);
const INFO: Ref = Ref::new(3);
/// Each face takes five objects, each page two.
const REGULAR: i32 = 4;
const BOLD: i32 = 9;
const FIRST_PAGE: i32 = 14;

/// Rows with how far down each begins.
pub(super) type Column<'a> = &'a [(f32, &'a Row)];

/// What stands where, in points.
pub(super) struct Laid<'a> {
    /// The document's title.
    pub(super) title: &'a str,
    /// Width and height of the paper.
    pub(super) size: (f32, f32),
    /// What stays free around the text.
    pub(super) edge: f32,
    /// Where the margin for notes begins.
    pub(super) notes: f32,
    /// The pictures, as the rows number them.
    pub(super) pictures: &'a [Hung<'a>],
    /// The columns of each page, and how far to the right of the text's edge each begins.
    pub(super) pages: Vec<Vec<(f32, Column<'a>)>>,
}

/// The bytes of the document.
pub(super) fn written(laid: &Laid<'_>, faces: (&Face, &Face)) -> Vec<u8> {
    let mut faces = (Embedded::of(faces.0), Embedded::of(faces.1));
    let mut pdf = Pdf::new();
    pdf.catalog(CATALOG).pages(PAGES).lang(TextStr("en"));
    pdf.document_info(INFO).title(TextStr(laid.title));
    let numbers = (FIRST_PAGE..).step_by(2).zip(&laid.pages);
    let numbers: Vec<(Ref, Ref)> =
        numbers.map(|(number, _)| (Ref::new(number), Ref::new(number + 1))).collect();
    let count = i32::try_from(numbers.len()).unwrap_or(i32::MAX);
    pdf.pages(PAGES).kids(numbers.iter().map(|(page, _)| *page)).count(count);
    for ((number, content), columns) in numbers.iter().zip(&laid.pages) {
        let mut page = pdf.page(*number);
        page.media_box(Rect::new(0.0, 0.0, laid.size.0, laid.size.1)).parent(PAGES).contents(*content);
        let mut resources = page.resources();
        let mut fonts = resources.fonts();
        fonts.pair(Name(b"R"), Ref::new(REGULAR)).pair(Name(b"B"), Ref::new(BOLD));
        fonts.finish();
        resources.finish();
        page.finish();
        let mut drawn = Content::new();
        let (top, bottom) = (laid.size.1 - laid.edge, laid.edge);
        drawn.set_line_width(0.4).move_to(laid.notes, bottom).line_to(laid.notes, top).stroke();
        for (right, rows) in columns {
            for (down, row) in *rows {
                draw(&mut drawn, (row, laid.pictures), (laid.edge + right, top - down), &mut faces);
            }
        }
        pdf.stream(*content, &drawn.finish());
    }
    faces.0.write(&mut pdf, REGULAR);
    faces.1.write(&mut pdf, BOLD);
    pdf.finish()
}

/// A row, its upper left corner there.
fn draw(
    page: &mut Content,
    (row, pictures): (&Row, &[Hung<'_>]),
    (left, top): (f32, f32),
    faces: &mut (Embedded<'_>, Embedded<'_>),
) {
    for mark in &row.marks {
        match mark {
            Mark::Words { x, y, size, bold, text } => {
                let (name, bytes) =
                    if *bold { (b"B", faces.1.encoded(text)) } else { (b"R", faces.0.encoded(text)) };
                page.begin_text().set_font(Name(name), *size).next_line(left + x, top - y);
                page.show(Str(&bytes)).end_text();
            }
            Mark::Box { x, y, side } => {
                page.set_line_width(0.6).rect(left + x, top - y, *side, *side).stroke();
            }
            Mark::Rule { x, y, width } => {
                let (from, to) = (left + x, left + x + width);
                page.set_line_width(0.6).move_to(from, top - y).line_to(to, top - y).stroke();
            }
            Mark::Picture { x, number } => {
                if let Some(picture) = pictures.get(*number) {
                    picture.draw(page, (left + x, top), (Name(b"R"), &mut faces.0));
                }
            }
        }
    }
}
