//! Bytes and the protocol's positions, which count lines and columns from 0. A position past an end means that end.

use std::cell::OnceCell;

use gen_lsp_types::Position;
use ropey::Rope;

/// The unit of columns.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Encoding {
    /// Bytes.
    Utf8,
    /// Units of 16 bits, the protocol's default.
    Utf16,
}

/// The line starts of a text. In the protocol a lone carriage return also ends a line.
#[derive(Debug)]
pub(super) struct Ruler {
    /// Found when they are first needed.
    starts: OnceCell<Vec<usize>>,
    encoding: Encoding,
    /// The columns before the text on its first line.
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
    /// The ruler of a text, which the editor may have after this letter.
    pub(super) fn behind(letter: Option<char>, encoding: Encoding) -> Ruler {
        let lead = letter.map_or(0, |letter| encoding.width(letter));
        Ruler { starts: OnceCell::new(), encoding, lead }
    }

    fn starts(&self, text: &str) -> &[usize] {
        self.starts.get_or_init(|| {
            let bytes = text.as_bytes();
            let ends = |(at, byte): (usize, &u8)| {
                let ends = *byte == b'\n' || (*byte == b'\r' && bytes.get(at + 1) != Some(&b'\n'));
                ends.then_some(at + 1)
            };
            std::iter::once(0).chain(bytes.iter().enumerate().filter_map(ends)).collect()
        })
    }

    fn lead(&self, line: usize) -> usize {
        if line == 0 { self.lead } else { 0 }
    }

    /// The position of a byte.
    pub(super) fn position(&self, text: &str, byte: usize) -> Position {
        let starts = self.starts(text);
        let line = starts.partition_point(|start| *start <= byte).saturating_sub(1);
        let start = starts.get(line).copied().unwrap_or(0);
        let before = text.get(start..byte.min(text.len())).unwrap_or("");
        let width: usize = before.chars().map(|letter| self.encoding.width(letter)).sum();
        let character = width + self.lead(line);
        Position { line: small(line), character: small(character) }
    }

    /// The byte at a position.
    pub(super) fn byte(&self, text: &str, position: Position) -> usize {
        let (line, starts) = (position.line as usize, self.starts(text));
        let Some(start) = starts.get(line).copied() else { return text.len() };
        let end = starts.get(line + 1).copied().unwrap_or(text.len());
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

/// The character at a position of a text that is being edited.
pub(super) fn char_at(text: &Rope, position: Position, encoding: Encoding) -> usize {
    let Some(line) = text.get_line(position.line as usize) else { return text.len_chars() };
    let ends = line.chars_at(line.len_chars()).reversed().take_while(|letter| matches!(letter, '\n' | '\r'));
    let words = line.slice(..line.len_chars() - ends.count());
    let column = position.character as usize;
    let within = match encoding {
        Encoding::Utf8 => words.byte_to_char(column.min(words.len_bytes())),
        Encoding::Utf16 => words.utf16_cu_to_char(column.min(words.len_utf16_cu())),
    };
    text.line_to_char(position.line as usize) + within
}

fn small(number: usize) -> u32 {
    u32::try_from(number).unwrap_or(u32::MAX)
}
