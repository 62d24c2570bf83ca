//! A face inside the document: only the glyphs that are used, by their own numbers, and for each the letter
//! it stands for, so that what is on the paper can be found and copied (ISO 32000-1, 9.7 and 9.10.3).

use std::collections::BTreeMap;

use pdf_writer::types::{CidFontType, FontFlags, SystemInfo, UnicodeCmap};
use pdf_writer::{Finish as _, Name, Pdf, Rect, Ref, Str};
use subsetter::GlyphRemapper;

use super::face::Face;

const IDENTITY: SystemInfo<'static> =
    SystemInfo { registry: Str(b"Adobe"), ordering: Str(b"Identity"), supplement: 0 };
const UNICODE: SystemInfo<'static> =
    SystemInfo { registry: Str(b"Adobe"), ordering: Str(b"UCS"), supplement: 0 };

/// A face and what was used of it.
pub(super) struct Embedded<'a> {
    face: &'a Face,
    glyphs: GlyphRemapper,
    letters: BTreeMap<u16, (char, f32)>,
}

impl<'a> Embedded<'a> {
    /// Nothing is used yet.
    pub(super) fn of(face: &'a Face) -> Embedded<'a> {
        Embedded { face, glyphs: GlyphRemapper::new(), letters: BTreeMap::new() }
    }

    /// How wide these words are at that size, in points.
    pub(super) fn width(&self, text: &str, size: f32) -> f32 {
        self.face.width(text, size)
    }

    /// The words as numbers of glyphs, two bytes each.
    pub(super) fn encoded(&mut self, text: &str) -> Vec<u8> {
        let mut bytes = Vec::with_capacity(text.len() * 2);
        for letter in text.chars() {
            let glyph = self.face.glyph(letter);
            let number = self.glyphs.remap(glyph);
            self.letters.entry(number).or_insert((self.face.seen(letter), self.face.advance(glyph)));
            bytes.extend(number.to_be_bytes());
        }
        bytes
    }

    /// Puts the face into the document, in five objects from this number on.
    pub(super) fn write(&self, pdf: &mut Pdf, first: i32) {
        let name = Name(self.face.name.as_bytes());
        let [font, cid, descriptor, cmap, file] = [0, 1, 2, 3, 4].map(|at| Ref::new(first + at));
        let mut written = pdf.type0_font(font);
        written.base_font(name).encoding_predefined(Name(b"Identity-H"));
        written.descendant_font(cid).to_unicode(cmap);
        written.finish();
        let mut written = pdf.cid_font(cid);
        written.subtype(CidFontType::Type2).base_font(name).system_info(IDENTITY);
        written.font_descriptor(descriptor).default_width(0.0).cid_to_gid_map_predefined(Name(b"Identity"));
        let mut widths = written.widths();
        for (glyph, (_, width)) in &self.letters {
            widths.consecutive(*glyph, [*width]);
        }
        widths.finish();
        written.finish();
        let ([left, low, right, high], ascent, descent, capitals) = self.face.metrics();
        let mut written = pdf.font_descriptor(descriptor);
        written.name(name).flags(FontFlags::SYMBOLIC).bbox(Rect::new(left, low, right, high));
        written.italic_angle(0.0).ascent(ascent).descent(descent).cap_height(capitals).stem_v(80.0);
        written.font_file2(file);
        written.finish();
        let mut map = UnicodeCmap::new(Name(b"Letters"), UNICODE);
        for (glyph, (letter, _)) in &self.letters {
            map.pair(*glyph, *letter);
        }
        pdf.cmap(cmap, &map.finish());
        let part =
            subsetter::subset(self.face.data, 0, &self.glyphs).expect("the font is part of the program");
        pdf.stream(file, &part).pair(Name(b"Length1"), i32::try_from(part.len()).unwrap_or(i32::MAX));
    }
}
