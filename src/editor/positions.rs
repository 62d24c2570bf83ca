//! Bytes and the protocol's positions: a line from 0, and a column from 0 in the units that both sides
//! agreed on. Any position is a place in the text; one past an end is that end.

use gen_lsp_types::Position;

/// What a column counts.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Encoding {
    /// Bytes.
    Utf8,
    /// Units of 16 bits; the protocol's own choice where nothing is agreed.
    Utf16,
}

/// Where the lines of a text begin. The protocol ends a line at a lone carriage return too.
#[derive(Debug)]
pub(super) struct Ruler {
    starts: Vec<usize>,
    encoding: Encoding,
    /// So many columns stand before the text on its first line.
    lead: usize,
}

impl Encoding {
    fn width(self, letter: char) -> usize {
        match self {
            Encoding::Utf8 => letter.len_utf8(),
            Encoding::Utf16 => letter.len_utf16(),
        }
    }
}

impl Ruler {
    /// Measures a text.
    pub(super) fn of(text: &str, encoding: Encoding) -> Ruler {
        let bytes = text.as_bytes();
        let ends = |(at, byte): (usize, &u8)| {
            let ends = *byte == b'\n' || (*byte == b'\r' && bytes.get(at + 1) != Some(&b'\n'));
            ends.then_some(at + 1)
        };
        let starts = bytes.iter().enumerate().filter_map(ends);
        Ruler { starts: std::iter::once(0).chain(starts).collect(), encoding, lead: 0 }
    }

    /// Measures a text before which the editor has that letter.
    pub(super) fn behind(letter: char, text: &str, encoding: Encoding) -> Ruler {
        Ruler { lead: encoding.width(letter), ..Ruler::of(text, encoding) }
    }

    fn lead(&self, line: usize) -> usize {
        if line == 0 { self.lead } else { 0 }
    }

    /// The position of a byte.
    pub(super) fn position(&self, text: &str, byte: usize) -> Position {
        let line = self.starts.partition_point(|start| *start <= byte).saturating_sub(1);
        let start = self.starts.get(line).copied().unwrap_or(0);
        let before = text.get(start..byte.min(text.len())).unwrap_or("");
        let width: usize = before.chars().map(|letter| self.encoding.width(letter)).sum();
        let character = width + self.lead(line);
        Position { line: small(line), character: small(character) }
    }

    /// The byte at a position.
    pub(super) fn byte(&self, text: &str, position: Position) -> usize {
        let line = position.line as usize;
        let Some(start) = self.starts.get(line).copied() else { return text.len() };
        let end = self.starts.get(line + 1).copied().unwrap_or(text.len());
        let words = text.get(start..end).unwrap_or("").trim_end_matches(['\n', '\r']);
        let mut left = (position.character as usize).saturating_sub(self.lead(line));
        for (at, letter) in words.char_indices() {
            let width = self.encoding.width(letter);
            if left < width {
                return start + at;
            }
            left -= width;
        }
        start + words.len()
    }
}

fn small(number: usize) -> u32 {
    u32::try_from(number).unwrap_or(u32::MAX)
}
