//! A picture on paper: the same shapes as on a page, as lines and areas of PDF with words in the card's own
//! face, and its description for whoever has the sheet read aloud (ISO 32000-1, 14.9.3).

use pdf_writer::types::LineCapStyle;
use pdf_writer::{Content, Finish as _, Name, Str, TextStr};

use super::super::picture::{Anchor, BODY, Drawing, Ink, Shape};
use super::embed::Embedded;

/// How far from its ends the handles of a quarter of a circle lie, in its radius: 4/3 · (√2 - 1).
const HANDLE: f32 = 0.552_285;

/// A drawing, and how wide it is to be on the paper, in points.
#[derive(Debug, Clone, Copy)]
pub(super) struct Hung<'a> {
    drawing: &'a Drawing,
    scale: f32,
}

impl<'a> Hung<'a> {
    /// That drawing, so wide.
    pub(super) fn new(drawing: &'a Drawing, width: f32) -> Hung<'a> {
        Hung { drawing, scale: width / short(drawing.width) }
    }

    /// How wide it is.
    pub(super) fn width(&self) -> f32 {
        short(self.drawing.width) * self.scale
    }

    /// How high it is without its caption, which the card's own head says.
    pub(super) fn height(&self) -> f32 {
        short(self.drawing.height - self.drawing.caption_foot) * self.scale
    }

    /// Draws it, its upper left corner there. `face` is what its words are set in, and `font` that face's name.
    pub(super) fn draw(
        &self,
        page: &mut Content,
        (left, top): (f32, f32),
        face: (Name<'_>, &mut Embedded<'_>),
    ) {
        let place = Place { left, top, scale: self.scale, above: self.drawing.caption_foot };
        let mut marked = page.begin_marked_content_with_properties(Name(b"Span"));
        let mut told = marked.properties();
        told.pair(Name(b"Alt"), TextStr(&format!("{}. {}", self.drawing.title, self.drawing.description)));
        told.finish();
        marked.finish();
        page.save_state().set_line_cap(LineCapStyle::ButtCap);
        let (font, face) = face;
        for shape in &self.drawing.shapes {
            place.shape(page, shape, (font, &mut *face));
        }
        page.restore_state().end_marked_content();
    }

    /// How large its words are.
    pub(super) fn words_size(&self) -> f32 {
        short(BODY) * self.scale
    }

    /// All its words.
    pub(super) fn words(&self) -> impl Iterator<Item = &'a str> {
        self.drawing.shapes.iter().filter_map(|shape| match shape {
            Shape::Words { text, .. } => Some(text.as_str()),
            Shape::Area { .. } | Shape::Line { .. } | Shape::Dot { .. } => None,
        })
    }
}

/// Where a drawing lies on the paper.
#[derive(Clone, Copy)]
struct Place {
    left: f32,
    top: f32,
    scale: f32,
    above: f64,
}

impl Place {
    fn x(self, x: f64) -> f32 {
        self.left + short(x) * self.scale
    }

    /// In a drawing down is down.
    fn y(self, y: f64) -> f32 {
        self.top - short(y - self.above) * self.scale
    }

    fn shape(self, page: &mut Content, shape: &Shape, (font, face): (Name<'_>, &mut Embedded<'_>)) {
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
                let wide = face.width(text, size);
                let before = match anchor {
                    Anchor::Start => 0.0,
                    Anchor::Middle => wide / 2.0,
                    Anchor::End => wide,
                };
                let bytes = face.encoded(text);
                page.begin_text().set_font(font, size).next_line(self.x(*x) - before, self.y(*y));
                page.show(Str(&bytes)).end_text();
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

/// The numbers of a PDF are short ones.
#[expect(clippy::cast_possible_truncation, reason = "no place on a picture needs more than seven digits")]
fn short(value: f64) -> f32 {
    value as f32
}
