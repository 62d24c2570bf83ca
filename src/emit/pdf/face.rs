//! The two faces of a PDF: letter widths, and the subset that the document embeds. A character that a face
//! lacks is drawn as an empty box and named, since it could be the sign of a temperature.

use std::collections::{BTreeMap, BTreeSet};
use std::io::{Cursor, Error, ErrorKind};

use pdf_writer::types::{CidFontType, FontFlags, SystemInfo, UnicodeCmap};
use pdf_writer::{Finish as _, Name, Pdf, Rect, Ref, Str};
use subsetter::GlyphRemapper;
use truetype::tables::character_mapping::{Encoding, SequentialGroup};
use truetype::tables::{
    CharacterMapping, FontHeader, HorizontalHeader, HorizontalMetrics, MaximumProfile, Offsets,
};
use truetype::tape::Read as _;
use truetype::value::Read as _;

/// A face, read once for each document.
pub(super) struct Face {
    letters: Vec<SequentialGroup>,
    widths: HorizontalMetrics,
    units_per_em: f32,
    metrics: Metrics,
    /// The glyphs of the first letters; `None` if the face lacks one.
    common: [Option<u16>; COMMON],
    data: &'static [u8],
    /// Its name in the document, with the prefix of a subset.
    name: &'static str,
}

/// The metrics of a face, in font units.
struct Metrics {
    bounds: [i16; 4],
    ascent: i16,
    descent: i16,
}

/// The letters from U+0000 on that are looked up only once.
const COMMON: usize = 128;

/// The cap height, which the font files lack, in thousandths of the type size.
const CAPITALS: f32 = 700.0;

/// Replaces a character that cannot be shown.
const BOX: char = '\u{25a1}';

/// Scripts that need shaping: their letters join, stack or run from right to left.
const JOINED: [(char, char); 6] = [
    ('\u{300}', '\u{36f}'),
    ('\u{590}', '\u{109f}'),
    ('\u{1780}', '\u{1cff}'),
    ('\u{fb1d}', '\u{fdff}'),
    ('\u{fe00}', '\u{feff}'),
    ('\u{10800}', '\u{10fff}'),
];

impl Face {
    /// The face of most text.
    pub(super) fn regular() -> Face {
        Face::of(dejavu::sans_condensed::regular(), "WETSID+CardSans")
    }

    /// The face of times and headings.
    pub(super) fn bold() -> Face {
        Face::of(dejavu::sans_condensed::bold(), "WETSID+CardSans-Bold")
    }

    fn of(data: &'static [u8], name: &'static str) -> Face {
        let mut face = Face::read(data, name).expect("the font is part of the program");
        face.common = std::array::from_fn(|at| face.found(char::from(u8::try_from(at).ok()?)));
        face
    }

    fn read(data: &'static [u8], name: &'static str) -> Result<Face, Error> {
        let mut font = Cursor::new(data);
        let tables = Offsets::read(&mut font)?;
        let table = |tag: [u8; 4]| {
            let found = tables.iter().find(|table| table.tag.0 == tag).ok_or(ErrorKind::NotFound)?;
            let mut font = Cursor::new(data);
            font.jump(found.offset.into()).map(|_| font)
        };
        let head = FontHeader::read(&mut table(*b"head")?)?;
        let hhea = HorizontalHeader::read(&mut table(*b"hhea")?)?;
        let profile = MaximumProfile::read(&mut table(*b"maxp")?)?;
        let widths = table(*b"hmtx")?.take_given((&hhea, &profile))?;
        let mappings = CharacterMapping::read(&mut table(*b"cmap")?)?;
        let letters = mappings.encodings.into_iter().find_map(|mapping| match mapping {
            Encoding::Format12(every_letter) => Some(every_letter.groups),
            _ => None,
        });
        let metrics = Metrics {
            bounds: [head.min_x, head.min_y, head.max_x, head.max_y],
            ascent: hhea.ascender,
            descent: hhea.descender,
        };
        let letters = letters.ok_or(ErrorKind::NotFound)?;
        Ok(Face {
            letters,
            widths,
            units_per_em: head.units_per_em.into(),
            metrics,
            data,
            name,
            common: [None; COMMON],
        })
    }

    fn found(&self, letter: char) -> Option<u16> {
        let joined = JOINED.iter().any(|(first, last)| (*first..=*last).contains(&letter));
        let code = u32::from(letter);
        // The groups are in the order of their codes, as their format demands.
        let at = self.letters.partition_point(|group| group.end_code < code);
        let group = self.letters.get(at).filter(|_| !joined)?;
        u16::try_from(code.checked_sub(group.start_code)? + group.start_glyph_id).ok()
    }

    /// The glyph of a letter, if the face can show it.
    fn shown(&self, letter: char) -> Option<u16> {
        let common = usize::try_from(u32::from(letter)).ok().and_then(|at| self.common.get(at));
        common.map_or_else(|| self.found(letter), |glyph| *glyph)
    }

    /// The glyph of a letter, or of the box.
    fn glyph(&self, letter: char) -> u16 {
        self.shown(letter).or_else(|| self.found(BOX)).expect("the font has a box")
    }

    /// The letter itself, or the box, so that copied text shows what the paper shows.
    fn seen(&self, letter: char) -> char {
        if self.shown(letter).is_some() { letter } else { BOX }
    }

    /// The characters of a text that the face cannot show.
    pub(super) fn missing(&self, text: &str) -> BTreeSet<char> {
        text.chars().filter(|letter| self.shown(*letter).is_none()).collect()
    }

    /// The width of a glyph, in thousandths of the type size.
    fn advance(&self, glyph: u16) -> f32 {
        f32::from(self.widths.get(glyph).0) * 1000.0 / self.units_per_em
    }

    /// The width of a text at this size, in points.
    pub(super) fn width(&self, text: &str, size: f32) -> f32 {
        text.chars().map(|letter| self.advance(self.glyph(letter))).sum::<f32>() * size / 1000.0
    }
}

const IDENTITY: SystemInfo<'static> =
    SystemInfo { registry: Str(b"Adobe"), ordering: Str(b"Identity"), supplement: 0 };
const UNICODE: SystemInfo<'static> =
    SystemInfo { registry: Str(b"Adobe"), ordering: Str(b"UCS"), supplement: 0 };

/// A face and the glyphs used of it.
pub(super) struct Embedded<'a> {
    pub(super) face: &'a Face,
    glyphs: GlyphRemapper,
    letters: BTreeMap<u16, (char, f32)>,
}

impl<'a> Embedded<'a> {
    /// No glyph is used yet.
    pub(super) fn of(face: &'a Face) -> Embedded<'a> {
        Embedded { face, glyphs: GlyphRemapper::new(), letters: BTreeMap::new() }
    }

    /// The text as glyph numbers of two bytes.
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

    /// Writes the face as five objects from this number on (ISO 32000-1, 9.7 and 9.10.3).
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
        let scaled = |units: i16| f32::from(units) * 1000.0 / self.face.units_per_em;
        let metrics = &self.face.metrics;
        let [left, low, right, high] = metrics.bounds.map(scaled);
        let mut written = pdf.font_descriptor(descriptor);
        written.name(name).flags(FontFlags::SYMBOLIC).bbox(Rect::new(left, low, right, high));
        written
            .italic_angle(0.0)
            .ascent(scaled(metrics.ascent))
            .descent(scaled(metrics.descent))
            .cap_height(CAPITALS)
            .stem_v(80.0);
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
