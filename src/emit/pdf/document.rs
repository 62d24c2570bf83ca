//! The pages as PDF (ISO 32000-1), in which y grows upwards.

use pdf_writer::types::LineCapStyle;
use pdf_writer::{Content, Finish as _, Name, Pdf, Rect, Ref, Str, TextStr};

use super::super::picture::{Anchor, BODY, Drawing, Ink, Shape};
use super::Faces;
use super::face::Embedded;
use super::flow::{Mark, Row};

const CATALOG: Ref = Ref::new(1);
const PAGES: Ref = Ref::new(2);
const INFO: Ref = Ref::new(3);
/// Each face has five objects, each page two.
const REGULAR: i32 = 4;
const BOLD: i32 = 9;
const FIRST_PAGE: i32 = 14;
/// The resource names of the faces.
const R: Name<'static> = Name(b"R");
const B: Name<'static> = Name(b"B");

/// Rows, each with its distance from the top.
pub(super) type Column<'a> = &'a [(f32, &'a Row)];

/// The content of a document, in points.
pub(super) struct Layout<'a> {
    /// Its title.
    pub(super) title: &'a str,
    /// Width and height of the paper.
    pub(super) size: (f32, f32),
    /// The margin around the text.
    pub(super) edge: f32,
    /// The left edge of the margin for notes.
    pub(super) notes: f32,
    /// The pictures, as the rows number them.
    pub(super) pictures: &'a [Placed<'a>],
    /// The columns of each page, each with its distance from the left edge of the text.
    pub(super) pages: Vec<Vec<(f32, Column<'a>)>>,
}

/// The bytes of the document.
pub(super) fn document(laid: &Layout<'_>, faces: &Faces) -> Vec<u8> {
    let mut faces = Used { regular: Embedded::of(&faces.regular), bold: Embedded::of(&faces.bold) };
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
        fonts.pair(R, Ref::new(REGULAR)).pair(B, Ref::new(BOLD));
        fonts.finish();
        resources.finish();
        page.finish();
        let mut drawn = Content::new();
        let (top, bottom) = (laid.size.1 - laid.edge, laid.edge);
        drawn.set_line_width(0.4).move_to(laid.notes, bottom).line_to(laid.notes, top).stroke();
        for (right, rows) in columns {
            for (down, row) in *rows {
                let corner = Corner { left: laid.edge + right, top: top - down };
                draw(&mut drawn, row, laid.pictures, corner, &mut faces);
            }
        }
        pdf.stream(*content, &drawn.finish());
    }
    faces.regular.write(&mut pdf, REGULAR);
    faces.bold.write(&mut pdf, BOLD);
    pdf.finish()
}

struct Used<'a> {
    regular: Embedded<'a>,
    bold: Embedded<'a>,
}

/// An upper left corner.
#[derive(Clone, Copy)]
struct Corner {
    left: f32,
    top: f32,
}

fn draw(page: &mut Content, row: &Row, pictures: &[Placed<'_>], corner: Corner, faces: &mut Used<'_>) {
    let Corner { left, top } = corner;
    for mark in &row.marks {
        match mark {
            Mark::Text { x, y, size, bold, text } => {
                let (name, face) = if *bold { (B, &mut faces.bold) } else { (R, &mut faces.regular) };
                show(page, name, *size, (left + x, top - y), &face.encoded(text));
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
                    picture.draw(page, Corner { left: left + x, top }, &mut faces.regular);
                }
            }
        }
    }
}

/// Shows encoded text from `at` on.
fn show(page: &mut Content, font: Name<'_>, size: f32, at: (f32, f32), bytes: &[u8]) {
    page.begin_text().set_font(font, size).next_line(at.0, at.1);
    page.show(Str(bytes)).end_text();
}

/// The handle of a Bézier curve for a quarter circle, in its radius: 4/3 · (√2 - 1).
const HANDLE: f32 = 0.552_285;

/// A drawing scaled to the paper.
#[derive(Debug, Clone, Copy)]
pub(super) struct Placed<'a> {
    drawing: &'a Drawing,
    scale: f32,
}

impl<'a> Placed<'a> {
    /// The drawing at this width, in points.
    pub(super) fn new(drawing: &'a Drawing, width: f32) -> Placed<'a> {
        Placed { drawing, scale: width / short(drawing.width) }
    }

    /// Its width.
    pub(super) fn width(&self) -> f32 {
        short(self.drawing.width) * self.scale
    }

    /// Its height without the caption, which the card's title replaces.
    pub(super) fn height(&self) -> f32 {
        short(self.drawing.height - self.drawing.caption_foot) * self.scale
    }

    /// Draws it, with its description as alternative text (ISO 32000-1, 14.9.3).
    fn draw(&self, page: &mut Content, corner: Corner, face: &mut Embedded<'_>) {
        let pen = Pen { corner, scale: self.scale, above: self.drawing.caption_foot };
        let mut marked = page.begin_marked_content_with_properties(Name(b"Span"));
        let mut properties = marked.properties();
        properties
            .pair(Name(b"Alt"), TextStr(&format!("{}. {}", self.drawing.title, self.drawing.description)));
        properties.finish();
        marked.finish();
        page.save_state().set_line_cap(LineCapStyle::ButtCap);
        self.drawing.shapes.iter().for_each(|shape| pen.shape(page, shape, face));
        page.restore_state().end_marked_content();
    }

    /// The size of its text.
    pub(super) fn text_size(&self) -> f32 {
        short(BODY) * self.scale
    }

    /// All its text.
    pub(super) fn texts(&self) -> impl Iterator<Item = &'a str> {
        self.drawing.shapes.iter().filter_map(|shape| match shape {
            Shape::Words { text, .. } => Some(text.as_str()),
            _ => None,
        })
    }
}

/// Maps a drawing, in which y grows downwards, to the paper.
#[derive(Clone, Copy)]
struct Pen {
    corner: Corner,
    scale: f32,
    above: f64,
}

impl Pen {
    fn x(self, x: f64) -> f32 {
        self.corner.left + short(x) * self.scale
    }

    fn y(self, y: f64) -> f32 {
        self.corner.top - short(y - self.above) * self.scale
    }

    fn shape(self, page: &mut Content, shape: &Shape, face: &mut Embedded<'_>) {
        match shape {
            Shape::Area { at: [x, y, width, height], ink } => {
                filled(page, *ink);
                let (wide, high) = (short(*width) * self.scale, short(*height) * self.scale);
                page.rect(self.x(*x), self.y(y + height), wide, high).fill_nonzero();
            }
            Shape::Line { through, ink, thick } => {
                let [red, green, blue] = ink.on_paper();
                page.set_stroke_rgb(red, green, blue).set_line_width(short(*thick) * self.scale);
                for (at, [x, y]) in through.iter().enumerate() {
                    let (x, y) = (self.x(*x), self.y(*y));
                    if at == 0 {
                        page.move_to(x, y)
                    } else {
                        page.line_to(x, y)
                    };
                }
                page.stroke();
            }
            Shape::Dot { at: [x, y], radius, ink } => {
                filled(page, *ink);
                dot(page, (self.x(*x), self.y(*y)), short(*radius) * self.scale);
            }
            Shape::Words { at: [x, y], anchor, size, text, ink } => {
                filled(page, *ink);
                let size = short(*size) * self.scale;
                let wide = face.face.width(text, size);
                let before = match anchor {
                    Anchor::Start => 0.0,
                    Anchor::Middle => wide / 2.0,
                    Anchor::End => wide,
                };
                show(page, R, size, (self.x(*x) - before, self.y(*y)), &face.encoded(text));
            }
        }
    }
}

fn filled(page: &mut Content, ink: Ink) {
    let [red, green, blue] = ink.on_paper();
    page.set_fill_rgb(red, green, blue);
}

/// A circle in four curves, since PDF has no arcs.
fn dot(page: &mut Content, (x, y): (f32, f32), radius: f32) {
    let handle = radius * HANDLE;
    page.move_to(x + radius, y);
    for ([ax, ay], [bx, by], [cx, cy]) in [
        ([radius, handle], [handle, radius], [0.0, radius]),
        ([-handle, radius], [-radius, handle], [-radius, 0.0]),
        ([-radius, -handle], [-handle, -radius], [0.0, -radius]),
        ([handle, -radius], [radius, -handle], [radius, 0.0]),
    ] {
        page.cubic_to(x + ax, y + ay, x + bx, y + by, x + cx, y + cy);
    }
    page.fill_nonzero();
}

#[expect(clippy::cast_possible_truncation, reason = "no place on a picture needs more than seven digits")]
fn short(value: f64) -> f32 {
    value as f32
}
