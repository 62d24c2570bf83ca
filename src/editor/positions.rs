//! Bytes and the protocol's positions, which count lines and columns from 0. A position past an end means that end.

use gen_lsp_types::Position;
use ropey::Rope;

/// The unit of columns.
#[derive(Debug, Clone, Copy, Default)]
pub(super) enum Encoding {
    /// Bytes.
    Utf8,
    /// Units of 16 bits, the protocol's default.
    #[default]
    Utf16,
}

impl Encoding {
    /// The position of a byte.
    pub(super) fn position(self, text: &Rope, byte: usize) -> Position {
        let byte = byte.min(text.len_bytes());
        let line = text.byte_to_line(byte);
        let column = |byte| match self {
            Encoding::Utf8 => byte,
            Encoding::Utf16 => text.char_to_utf16_cu(text.byte_to_char(byte)),
        };
        Position { line: small(line), character: small(column(byte) - column(text.line_to_byte(line))) }
    }

    /// The character at a position. In the protocol a lone carriage return also ends a line.
    pub(super) fn char_at(self, text: &Rope, position: Position) -> usize {
        let Some(line) = text.get_line(position.line as usize) else { return text.len_chars() };
        let reversed = line.chars_at(line.len_chars()).reversed();
        let end = reversed.take_while(|letter| matches!(letter, '\n' | '\r')).count();
        let words = line.slice(..line.len_chars() - end);
        let column = position.character as usize;
        let within = match self {
            Encoding::Utf8 => words.byte_to_char(column.min(words.len_bytes())),
            Encoding::Utf16 => words.utf16_cu_to_char(column.min(words.len_utf16_cu())),
        };
        text.line_to_char(position.line as usize) + within
    }
}

/// A number that fits, since a text is far below 4 GiB.
pub(super) fn small(number: usize) -> u32 {
    u32::try_from(number).unwrap_or(u32::MAX)
}
