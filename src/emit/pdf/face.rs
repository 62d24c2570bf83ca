//! The two faces that a sheet of paper is set in, and how wide their letters are. What a face cannot show
//! is drawn as an empty box and named: a sign that went missing could be the sign of a temperature.

use std::collections::BTreeSet;

/// A face, read once for each sheet.
pub(super) struct Face {
    parsed: ttf_parser::Face<'static>,
    /// The glyphs of the commonest letters, and whether it shows them.
    common: [Option<u16>; COMMON],
    /// The font file.
    pub(super) data: &'static [u8],
    /// Its name in the document, with the mark of a part of a font.
    pub(super) name: &'static str,
}

/// So many letters from U+0000 on are looked up once and not for each word.
const COMMON: usize = 128;

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
        let parsed = ttf_parser::Face::parse(data, 0)
            .unwrap_or_else(|fault| unreachable!("the font is part of the program: {fault}"));
        let mut face = Face { parsed, data, name, common: [None; COMMON] };
        let glyphs = (0_u8..128).map(|letter| face.found(char::from(letter)));
        let common: Vec<Option<u16>> = glyphs.collect();
        face.common.iter_mut().zip(common).for_each(|(place, glyph)| *place = glyph);
        face
    }

    fn found(&self, letter: char) -> Option<u16> {
        let joined = JOINED.iter().any(|(first, last)| (*first..=*last).contains(&letter));
        self.parsed.glyph_index(letter).filter(|_| !joined).map(|glyph| glyph.0)
    }

    /// The glyph of a letter that can be shown.
    fn shown(&self, letter: char) -> Option<u16> {
        let common = usize::try_from(u32::from(letter)).ok().and_then(|at| self.common.get(at));
        common.map_or_else(|| self.found(letter), |glyph| *glyph)
    }

    /// The glyph of a letter, or of the box that stands for it.
    pub(super) fn glyph(&self, letter: char) -> u16 {
        self.shown(letter).or_else(|| self.found(BOX)).unwrap_or(0)
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
        let units = self.parsed.glyph_hor_advance(ttf_parser::GlyphId(glyph)).unwrap_or(0);
        f32::from(units) * 1000.0 / f32::from(self.parsed.units_per_em())
    }

    /// How wide a text is at that size, in points.
    pub(super) fn width(&self, text: &str, size: f32) -> f32 {
        text.chars().map(|letter| self.advance(self.glyph(letter))).sum::<f32>() * size / 1000.0
    }

    /// The face's own figures, in thousandths of the type size: box, ascent, descent and height of capitals.
    pub(super) fn metrics(&self) -> ([f32; 4], f32, f32, f32) {
        let scaled = |units: i16| f32::from(units) * 1000.0 / f32::from(self.parsed.units_per_em());
        let bounds = self.parsed.global_bounding_box();
        let bounds = [bounds.x_min, bounds.y_min, bounds.x_max, bounds.y_max].map(scaled);
        let capitals = self.parsed.capital_height().map_or(700.0, scaled);
        (bounds, scaled(self.parsed.ascender()), scaled(self.parsed.descender()), capitals)
    }
}
