//! Writes the pages as PDF (ISO 32000-1), in which y grows upwards, with the glyphs and letter widths of two typefaces.
//! A character that a face lacks is drawn as an empty box, and the card lists it, because it could be the minus sign of
//! a temperature.

use std::io::{Cursor, Error, ErrorKind};
use std::ops::RangeInclusive;

use pdf_writer::types::{CidFontType, FontFlags, LineCapStyle, SystemInfo, UnicodeCmap};
use pdf_writer::{Content, Finish as _, Name, Pdf, Rect, Ref, Str, TextStr};
use subsetter::GlyphRemapper;
use truetype::tables::character_mapping::{Encoding, SequentialGroup};
use truetype::tables::{
    CharacterMapping, FontHeader, HorizontalHeader, HorizontalMetrics, MaximumProfile, Offsets,
};
use truetype::tape::Read as _;
use truetype::value::Read as _;

use super::layout::{Font, Mark, Row};
use super::{BODY, Faces, Paper};
use crate::emit::link::Code;
use crate::emit::picture::{Anchor, BODY as PICTURE_BODY, CAPTION_FOOT, Drawing, Shape, WIDTH};

const REGULAR: Name<'static> = Name(b"R");
const BOLD: Name<'static> = Name(b"B");

/// The rows of a column, each with its distance in points from the top of the column.
pub(super) type Column<'a> = Vec<(f32, &'a Row<'a>)>;

#[derive(Clone, Copy)]
pub(super) struct Edge<'a> {
    /// The left and the upper margin, in points.
    pub(super) margin: f32,
    /// The lines at the foot of the first pages, and how many pages have these lines. With `Some`, every page also has
    /// its number.
    pub(super) foot: Option<(&'a [String], usize)>,
}

/// The PDF as bytes. A page is a list of columns, each with its distance in points from the left margin.
pub(super) fn written(
    title: &str,
    paper: Paper,
    edge: Edge<'_>,
    pages: &[Vec<(f32, &Column<'_>)>],
    mut faces: Faces,
) -> Vec<u8> {
    let (mut pdf, mut next) = (Pdf::new(), Ref::new(1));
    let [catalog, tree, info, regular, bold] = std::array::from_fn(|_| next.bump());
    pdf.catalog(catalog).pages(tree).lang(TextStr("en"));
    pdf.document_info(info).title(TextStr(title));
    let (width, height) = paper.size();
    let (left, top) = (edge.margin, height - edge.margin);
    let room = width - 2.0 * edge.margin;
    let mut kids = Vec::new();
    for columns in pages {
        let [number, content] = [next.bump(), next.bump()];
        kids.push(number);
        let mut page = pdf.page(number);
        page.media_box(Rect::new(0.0, 0.0, width, height)).parent(tree).contents(content);
        page.resources().fonts().pair(REGULAR, regular).pair(BOLD, bold);
        page.finish();
        let mut drawn = Content::new();
        for (right, rows) in columns {
            for (down, row) in rows.iter() {
                row.marks
                    .iter()
                    .for_each(|mark| draw(&mut drawn, mark, (left + right, top - down), &mut faces));
            }
        }
        if let Some((lines, fronts)) = edge.foot {
            let number = format!("{} of {}", kids.len(), pages.len());
            let font = Font { size: BODY, bold: true };
            let right = room - faces.bold.width(&number, BODY);
            let mut text = |x: f32, down: f32, text: &str| {
                let mark = Mark::Text { x, y: 0.0, font, text: text.to_owned() };
                draw(&mut drawn, &mark, (left, edge.margin + down), &mut faces);
            };
            text(right, 0.0, &number);
            let shown = if kids.len() <= fronts { lines } else { &[] };
            let mut up = shown.iter().skip(1).map(|_| BODY * 1.2).sum();
            for line in shown {
                text(0.0, up, line);
                up -= BODY * 1.2;
            }
        }
        pdf.stream(content, &drawn.finish());
    }
    pdf.pages(tree).count(i32::try_from(kids.len()).unwrap_or(i32::MAX)).kids(kids);
    faces.regular.write(&mut pdf, regular, &mut next);
    faces.bold.write(&mut pdf, bold, &mut next);
    pdf.finish()
}

/// Draws a mark of a row. `left` and `top` are the upper left corner of the row.
fn draw(page: &mut Content, mark: &Mark<'_>, (left, top): (f32, f32), faces: &mut Faces) {
    match mark {
        Mark::Text { x, y, font, text } => {
            let (name, face) =
                if font.bold { (BOLD, &mut faces.bold) } else { (REGULAR, &mut faces.regular) };
            let bytes = face.encoded(text);
            page.begin_text().set_font(name, font.size).next_line(left + x, top - y);
            page.show(Str(&bytes)).end_text();
        }
        Mark::Box { x, y, side } => {
            page.set_line_width(0.6).rect(left + x, top - y, *side, *side).stroke();
        }
        Mark::Frame { x, y, width, height } => {
            page.save_state().set_line_width(0.25).set_stroke_gray(0.6);
            page.rect(left + x, top - y - height, *width, *height).stroke().restore_state();
        }
        Mark::Rule { y, width } => {
            page.set_line_width(0.6).move_to(left, top - y).line_to(left + width, top - y).stroke();
        }
        Mark::Cut { y, width } => {
            page.save_state().set_line_width(0.4).set_dash_pattern([3.0, 3.0], 0.0);
            page.move_to(left, top - y).line_to(left + width, top - y).stroke().restore_state();
        }
        Mark::Upright { x, y, height } => {
            let (x, y) = (left + x, top - y);
            page.set_line_width(0.4).move_to(x, y).line_to(x, y - height).stroke();
        }
        Mark::Band { y, width, font, text } => {
            let high = font.size * 1.3;
            page.rect(left, top - y - high, *width, high).fill_nonzero().save_state().set_fill_gray(1.0);
            let text = Mark::Text { x: font.size * 0.3, y: y + font.size, font: *font, text: text.clone() };
            draw(page, &text, (left, top), faces);
            page.restore_state();
        }
        Mark::Code { side, code } => draw_code(page, (left, top), *side, code),
        Mark::Picture { x, picture } => picture.draw(page, (left + x, top), &mut faces.regular),
    }
}

/// Draws a QR code in black. The modules are one path: drawn one by one, they would show fine lines between them.
fn draw_code(page: &mut Content, (left, top): (f32, f32), side: f32, code: &Code) {
    let module = side / f32::from(code.side);
    let mut span = page.begin_marked_content_with_properties(Name(b"Span"));
    span.properties().pair(Name(b"Alt"), TextStr("QR code of the link"));
    span.finish();
    for [x, y, count] in &code.dark {
        let [x, y, count] = [*x, y + 1, *count].map(|modules| f32::from(modules) * module);
        page.rect(left + x, top - y, count, module);
    }
    page.fill_nonzero().end_marked_content();
}

/// A drawing, and the scale from its units to points.
#[derive(Clone, Copy)]
pub(super) struct Placed<'a> {
    drawing: &'a Drawing,
    scale: f32,
}

impl<'a> Placed<'a> {
    /// The drawing, scaled so that its text has the type size `size` in points.
    pub(super) fn new(drawing: &'a Drawing, size: f32) -> Placed<'a> {
        Placed { drawing, scale: size / short(PICTURE_BODY) }
    }

    pub(super) fn width(&self) -> f32 {
        short(WIDTH) * self.scale
    }

    /// The height without the caption, which would repeat the card's title.
    pub(super) fn height(&self) -> f32 {
        short(self.drawing.height - CAPTION_FOOT) * self.scale
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
        // In a drawing y grows downwards, in a PDF upwards: the transformation flips the drawing.
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
        // PDF has no circles. The round ends of a line of length 0 make one.
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

/// A typeface, and which of its glyphs the document uses.
pub(super) struct Face {
    glyphs: Vec<SequentialGroup>,
    widths: HorizontalMetrics,
    units_per_em: f32,
    /// The left, lower, right and upper bounds of all glyphs, the ascent and the descent, in font units.
    metrics: [i16; 6],
    /// The glyphs up to U+007F and their widths, looked up in advance. `None` for a letter that the face lacks.
    common: Vec<Option<(u16, f32)>>,
    data: &'static [u8],
    /// The face's name in the document, with the prefix that marks a subset.
    name: &'static str,
    used: GlyphRemapper,
    /// The letter of each glyph of the subset, from glyph 1 on, and its width in thousandths of the type size.
    letters: Vec<(char, f32)>,
}

/// The height of capitals, in thousandths of the type size. The font files do not state it.
const CAPITALS: f32 = 700.0;

/// The box that is drawn for a character that the face cannot show.
const BOX: char = '\u{25a1}';

/// Characters that are drawn as a box, because their letters join, stack or run from right to left.
const JOINED: [RangeInclusive<char>; 6] = [
    '\u{300}'..='\u{36f}',
    '\u{590}'..='\u{109f}',
    '\u{1780}'..='\u{1cff}',
    '\u{fb1d}'..='\u{fdff}',
    '\u{fe00}'..='\u{feff}',
    '\u{10800}'..='\u{10fff}',
];

const INCLUDED: &str = "the font is part of the program";

impl Face {
    pub(super) fn of(data: &'static [u8], name: &'static str) -> Face {
        Face::read(data, name).expect(INCLUDED)
    }

    fn read(data: &'static [u8], name: &'static str) -> Result<Face, Error> {
        let tables = Offsets::read(&mut Cursor::new(data))?;
        let table = |tag: &[u8; 4]| {
            let found = tables.iter().find(|table| table.tag.0 == *tag).ok_or(ErrorKind::NotFound)?;
            let mut font = Cursor::new(data);
            font.jump(found.offset.into()).map(|_| font)
        };
        let head = FontHeader::read(&mut table(b"head")?)?;
        let hhea = HorizontalHeader::read(&mut table(b"hhea")?)?;
        let profile = MaximumProfile::read(&mut table(b"maxp")?)?;
        let mappings = CharacterMapping::read(&mut table(b"cmap")?)?;
        let glyphs = mappings.encodings.into_iter().find_map(|mapping| match mapping {
            Encoding::Format12(every_letter) => Some(every_letter.groups),
            _ => None,
        });
        let mut face = Face {
            glyphs: glyphs.ok_or(ErrorKind::NotFound)?,
            widths: table(b"hmtx")?.take_given((&hhea, &profile))?,
            units_per_em: head.units_per_em.into(),
            metrics: [head.min_x, head.min_y, head.max_x, head.max_y, hhea.ascender, hhea.descender],
            common: Vec::new(),
            data,
            name,
            used: GlyphRemapper::new(),
            letters: Vec::new(),
        };
        let with_width = |glyph| (glyph, face.advance(glyph));
        face.common = ('\0'..='\u{7f}').map(|letter| face.glyph(letter).map(with_width)).collect();
        Ok(face)
    }

    fn glyph(&self, letter: char) -> Option<u16> {
        if let Some(common) = self.common.get(letter as usize) {
            return common.map(|(glyph, _)| glyph);
        }
        let joined = JOINED.iter().any(|letters| letters.contains(&letter));
        let code = u32::from(letter);
        // The font format requires that the groups are in the order of their codes.
        let at = self.glyphs.partition_point(|group| group.end_code < code);
        let group = self.glyphs.get(at).filter(|_| !joined)?;
        u16::try_from(code.checked_sub(group.start_code)? + group.start_glyph_id).ok()
    }

    /// The letter and its glyph. If the face lacks the letter, the box and its glyph, so that copied text has the box
    /// too.
    fn shown(&self, letter: char) -> (char, u16) {
        let glyph = |letter| Some((letter, self.glyph(letter)?));
        glyph(letter).or_else(|| glyph(BOX)).expect("the font has a box")
    }

    pub(super) fn lacks(&self, letter: char) -> bool {
        self.glyph(letter).is_none()
    }

    /// A length in font units as thousandths of the type size.
    fn scaled(&self, units: impl Into<f32>) -> f32 {
        units.into() * 1000.0 / self.units_per_em
    }

    fn advance(&self, glyph: u16) -> f32 {
        self.scaled(self.widths.get(glyph).0)
    }

    /// The width of a text at this size, in points.
    pub(super) fn width(&self, text: &str, size: f32) -> f32 {
        let width = |letter| match self.common.get(letter as usize) {
            Some(Some((_, width))) => *width,
            _ => self.advance(self.shown(letter).1),
        };
        text.chars().map(width).sum::<f32>() * size / 1000.0
    }

    /// The text as glyph numbers of the subset, two bytes each.
    fn encoded(&mut self, text: &str) -> Vec<u8> {
        let mut bytes = Vec::with_capacity(text.len() * 2);
        for letter in text.chars() {
            let (letter, glyph) = self.shown(letter);
            let number = self.used.remap(glyph);
            if usize::from(number) > self.letters.len() {
                self.letters.push((letter, self.advance(glyph)));
            }
            bytes.extend(number.to_be_bytes());
        }
        bytes
    }

    /// Writes the used glyphs as the object `font` and four more objects (ISO 32000-1, 9.7 and 9.10.3).
    fn write(&self, pdf: &mut Pdf, font: Ref, next: &mut Ref) {
        let name = Name(self.name.as_bytes());
        let [cid, descriptor, cmap, file] = std::array::from_fn(|_| next.bump());
        let system =
            |ordering| SystemInfo { registry: Str(b"Adobe"), ordering: Str(ordering), supplement: 0 };
        pdf.type0_font(font)
            .base_font(name)
            .encoding_predefined(Name(b"Identity-H"))
            .descendant_font(cid)
            .to_unicode(cmap);
        pdf.cid_font(cid)
            .subtype(CidFontType::Type2)
            .base_font(name)
            .system_info(system(b"Identity"))
            .font_descriptor(descriptor)
            .default_width(0.0)
            .cid_to_gid_map_predefined(Name(b"Identity"))
            .widths()
            .consecutive(1, self.letters.iter().map(|(_, width)| *width));
        let [left, low, right, high, ascent, descent] = self.metrics.map(|units| self.scaled(units));
        pdf.font_descriptor(descriptor)
            .name(name)
            .flags(FontFlags::SYMBOLIC)
            .bbox(Rect::new(left, low, right, high))
            .italic_angle(0.0)
            .ascent(ascent)
            .descent(descent)
            .cap_height(CAPITALS)
            .stem_v(80.0)
            .font_file2(file);
        let mut map = UnicodeCmap::new(Name(b"Letters"), system(b"UCS"));
        (1_u16..).zip(&self.letters).for_each(|(glyph, (letter, _))| map.pair(glyph, *letter));
        pdf.cmap(cmap, &map.finish());
        let part = subsetter::subset(self.data, 0, &self.used).expect(INCLUDED);
        pdf.stream(file, &part).pair(Name(b"Length1"), i32::try_from(part.len()).unwrap_or(i32::MAX));
    }
}
