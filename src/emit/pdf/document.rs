//! Writes the pages as PDF (ISO 32000-1), in which y grows upwards.

use pdf_writer::types::LineCapStyle;
use pdf_writer::{Content, Finish as _, Name, Pdf, Rect, Ref, Str, TextStr};

use super::face::Face;
use super::layout::{Mark, Row};
use super::{Faces, NOTES, Paper};
use crate::emit::picture::{Anchor, BODY, CAPTION_FOOT, Drawing, Shape, WIDTH};

const REGULAR: Name<'static> = Name(b"R");
const BOLD: Name<'static> = Name(b"B");

/// The rows of a column, each with its distance from the top.
pub(super) type Column<'a> = Vec<(f32, &'a Row<'a>)>;

/// The bytes of the document. A page is its columns, each with its distance from the left edge of the text.
pub(super) fn document(
    title: &str,
    paper: Paper,
    pages: &[Vec<(f32, &Column<'_>)>],
    mut faces: Faces,
) -> Vec<u8> {
    let (mut pdf, mut next) = (Pdf::new(), Ref::new(1));
    let [catalog, tree, info, regular, bold] = std::array::from_fn(|_| next.bump());
    pdf.catalog(catalog).pages(tree).lang(TextStr("en"));
    pdf.document_info(info).title(TextStr(title));
    let (width, height) = paper.size();
    let (left, top) = (paper.edge(), height - paper.edge());
    let mut kids = Vec::new();
    for columns in pages {
        let [number, content] = [next.bump(), next.bump()];
        kids.push(number);
        let mut page = pdf.page(number);
        page.media_box(Rect::new(0.0, 0.0, width, height)).parent(tree).contents(content);
        page.resources().fonts().pair(REGULAR, regular).pair(BOLD, bold);
        page.finish();
        let mut drawn = Content::new();
        // A line separates the margin for notes.
        let notes = width * (1.0 - NOTES * 0.85);
        drawn.set_line_width(0.4).move_to(notes, paper.edge()).line_to(notes, top).stroke();
        for (right, rows) in columns {
            for (down, row) in rows.iter() {
                row.marks
                    .iter()
                    .for_each(|mark| draw(&mut drawn, mark, (left + right, top - down), &mut faces));
            }
        }
        pdf.stream(content, &drawn.finish());
    }
    pdf.pages(tree).count(i32::try_from(kids.len()).unwrap_or(i32::MAX)).kids(kids);
    faces.regular.write(&mut pdf, regular, &mut next);
    faces.bold.write(&mut pdf, bold, &mut next);
    pdf.finish()
}

/// Draws a mark of a row that has this upper left corner.
fn draw(page: &mut Content, mark: &Mark<'_>, (left, top): (f32, f32), faces: &mut Faces) {
    match mark {
        Mark::Text { x, y, font, text } => {
            let (name, face) =
                if font.bold { (BOLD, &mut faces.bold) } else { (REGULAR, &mut faces.regular) };
            let bytes = face.encoded(text);
            page.begin_text().set_font(name, font.size).next_line(left + x, top - y);
            page.show(Str(&bytes)).end_text();
        }
        Mark::Box { y, side } => {
            page.set_line_width(0.6).rect(left, top - y, *side, *side).stroke();
        }
        Mark::Rule { y, width } => {
            page.set_line_width(0.6).move_to(left, top - y).line_to(left + width, top - y).stroke();
        }
        Mark::Picture { x, picture } => picture.draw(page, (left + x, top), &mut faces.regular),
    }
}

/// A drawing scaled to the paper.
#[derive(Clone, Copy)]
pub(super) struct Placed<'a> {
    drawing: &'a Drawing,
    scale: f32,
}

impl<'a> Placed<'a> {
    pub(super) fn new(drawing: &'a Drawing, width: f32) -> Placed<'a> {
        Placed { drawing, scale: width / short(WIDTH) }
    }

    pub(super) fn width(&self) -> f32 {
        short(WIDTH) * self.scale
    }

    /// The height without the caption, because the card has the title.
    pub(super) fn height(&self) -> f32 {
        short(self.drawing.height - CAPTION_FOOT) * self.scale
    }

    pub(super) fn text_size(&self) -> f32 {
        short(BODY) * self.scale
    }

    pub(super) fn texts(&self) -> impl Iterator<Item = &'a str> {
        self.drawing.marks.iter().filter_map(|(_, shape)| match shape {
            Shape::Words { text, .. } => Some(text.as_str()),
            _ => None,
        })
    }

    /// Draws the picture, with its description as alternative text (ISO 32000-1, 14.9.3).
    fn draw(&self, page: &mut Content, (left, top): (f32, f32), face: &mut Face) {
        let text = format!("{}. {}", self.drawing.title, self.drawing.description);
        page.begin_marked_content_with_properties(Name(b"Span"))
            .properties()
            .pair(Name(b"Alt"), TextStr(&text));
        // The transformation turns y around, because y grows downwards in a drawing.
        let top = top + short(CAPTION_FOOT) * self.scale;
        page.save_state().transform([self.scale, 0.0, 0.0, -self.scale, left, top]);
        for (ink, shape) in &self.drawing.marks {
            let [red, green, blue] = ink.on_paper();
            page.set_fill_rgb(red, green, blue).set_stroke_rgb(red, green, blue);
            draw_shape(page, shape, face);
        }
        page.restore_state().end_marked_content();
    }
}

fn draw_shape(page: &mut Content, shape: &Shape, face: &mut Face) {
    match shape {
        Shape::Area(area) => {
            let [x, y, width, height] = area.map(short);
            page.rect(x, y, width, height).fill_nonzero();
        }
        Shape::Line(thick, through) => {
            page.set_line_width(short(*thick));
            for (at, point) in through.iter().enumerate() {
                let [x, y] = point.map(short);
                if at == 0 {
                    page.move_to(x, y)
                } else {
                    page.line_to(x, y)
                };
            }
            page.stroke();
        }
        // PDF has no circles, but a line of no length has round ends.
        Shape::Dot(at, radius) => {
            let [x, y] = at.map(short);
            page.set_line_cap(LineCapStyle::RoundCap).set_line_width(short(2.0 * radius));
            page.move_to(x, y).line_to(x, y).stroke().set_line_cap(LineCapStyle::ButtCap);
        }
        Shape::Words { at, anchor, size, text } => {
            let ([x, y], size) = (at.map(short), short(*size));
            let before = match anchor {
                Anchor::Start => 0.0,
                Anchor::Middle => face.width(text, size) / 2.0,
                Anchor::End => face.width(text, size),
            };
            page.begin_text().set_font(REGULAR, size).set_text_matrix([1.0, 0.0, 0.0, -1.0, x - before, y]);
            page.show(Str(&face.encoded(text))).end_text();
        }
    }
}

#[expect(clippy::cast_possible_truncation, reason = "no place on a picture needs more than seven digits")]
fn short(value: f64) -> f32 {
    value as f32
}
