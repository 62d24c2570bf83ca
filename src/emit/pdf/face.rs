//! The two faces that a sheet of paper is set in, and how wide their letters are. What a face cannot show
//! is drawn as an empty box and named: a sign that went missing could be the sign of a temperature.

use std::collections::BTreeSet;

use read_fonts::tables::{cmap::Cmap, hmtx::Hmtx};
use read_fonts::types::GlyphId;
use read_fonts::{FontRef, ReadError, TableProvider as _};

/// A face, read once for each sheet.
pub(super) struct Face {
    letters: Cmap<'static>,
    widths: Hmtx<'static>,
    units_per_em: f32,
    metrics: Metrics,
    /// The glyphs of the commonest letters, and whether it shows them.
    common: [Option<u16>; COMMON],
    /// The font file.
    pub(super) data: &'static [u8],
    /// Its name in the document, with the mark of a part of a font.
    pub(super) name: &'static str,
}

/// The figures of a face as a whole, in its own units.
struct Metrics {
    bounds: [i16; 4],
    ascent: i16,
    descent: i16,
}

/// So many letters from U+0000 on are looked up once and not for each word.
const COMMON: usize = 128;

/// The height of capitals, which the font files do not state, in thousandths of the type size.
const CAPITALS: f32 = 700.0;

/// Stands for what cannot be shown.
const BOX: char = '\u{25a1}';

/// Scripts whose letters join, stack or run from right to left, which takes more than a row of letters.
const JOINED: [(char, char); 6] = [
    ('\u{300}', '\u{36f}'),
    ('\u{590}', '\u{109f}'),
    ('\u{1780}', '\u{1cff}'),
    ('\u{fb1d}', '\u{fdff}'),
    ('\u{fe00}', '\u{feff}'),
    ('\u{10800}', '\u{10fff}'),
];

impl Face {
    /// The face of most words.
    pub(super) fn regular() -> Face {
        Face::of(dejavu::sans_condensed::regular(), "WETSID+CardSans")
    }

    /// The face of times and heads.
    pub(super) fn bold() -> Face {
        Face::of(dejavu::sans_condensed::bold(), "WETSID+CardSans-Bold")
    }

    fn of(data: &'static [u8], name: &'static str) -> Face {
        let mut face = Face::read(data, name).expect("the font is part of the program");
        let glyphs = (0_u8..128).map(|letter| face.found(char::from(letter)));
        let common: Vec<Option<u16>> = glyphs.collect();
        face.common.iter_mut().zip(common).for_each(|(place, glyph)| *place = glyph);
        face
    }

    fn read(data: &'static [u8], name: &'static str) -> Result<Face, ReadError> {
        let font = FontRef::new(data)?;
        let (head, hhea) = (font.head()?, font.hhea()?);
        let metrics = Metrics {
            bounds: [head.x_min(), head.y_min(), head.x_max(), head.y_max()],
            ascent: hhea.ascender().to_i16(),
            descent: hhea.descender().to_i16(),
        };
        let (letters, widths) = (font.cmap()?, font.hmtx()?);
        let units_per_em = f32::from(head.units_per_em());
        Ok(Face { letters, widths, units_per_em, metrics, data, name, common: [None; COMMON] })
    }

    fn found(&self, letter: char) -> Option<u16> {
        let joined = JOINED.iter().any(|(first, last)| (*first..=*last).contains(&letter));
        let glyph = self.letters.map_codepoint(letter).filter(|_| !joined)?;
        u16::try_from(glyph.to_u32()).ok()
    }

    /// The glyph of a letter that can be shown.
    fn shown(&self, letter: char) -> Option<u16> {
        let common = usize::try_from(u32::from(letter)).ok().and_then(|at| self.common.get(at));
        common.map_or_else(|| self.found(letter), |glyph| *glyph)
    }

    /// The glyph of a letter, or of the box that stands for it.
    pub(super) fn glyph(&self, letter: char) -> u16 {
        self.shown(letter).or_else(|| self.found(BOX)).expect("the font has a box")
    }

    /// What is seen of a letter: itself, or the box. Copied, a box must not come out as one of the many letters
    /// that it stands for.
    pub(super) fn seen(&self, letter: char) -> char {
        if self.shown(letter).is_some() { letter } else { BOX }
    }

    /// What of this text cannot be shown.
    pub(super) fn missing(&self, text: &str) -> BTreeSet<char> {
        text.chars().filter(|letter| self.shown(*letter).is_none()).collect()
    }

    /// A glyph's width, in thousandths of the type size.
    pub(super) fn advance(&self, glyph: u16) -> f32 {
        let units = self.widths.advance(GlyphId::from(glyph)).expect("every glyph of the font has a width");
        f32::from(units) * 1000.0 / self.units_per_em
    }

    /// How wide a text is at that size, in points.
    pub(super) fn width(&self, text: &str, size: f32) -> f32 {
        text.chars().map(|letter| self.advance(self.glyph(letter))).sum::<f32>() * size / 1000.0
    }

    /// The face's own figures, in thousandths of the type size: box, ascent, descent and height of capitals.
    pub(super) fn metrics(&self) -> ([f32; 4], f32, f32, f32) {
        let scaled = |units: i16| f32::from(units) * 1000.0 / self.units_per_em;
        let Metrics { bounds, ascent, descent } = self.metrics;
        (bounds.map(scaled), scaled(ascent), scaled(descent), CAPITALS)
    }
}
