//! Makes text from recipes safe to show: it cannot move a cursor, reverse a line or hide a letter.

use crate::source::is_hidden;

/// The text on one line, with each hidden character as U+FFFD.
pub(super) fn plain(text: &str) -> String {
    let shown = |letter: char| match letter {
        '\n' | '\t' => ' ',
        letter if is_hidden(letter) => char::REPLACEMENT_CHARACTER,
        letter => letter,
    };
    text.chars().map(shown).collect()
}

/// Each text made plain.
pub(super) fn all_plain(texts: &[String]) -> Vec<String> {
    texts.iter().map(|text| plain(text)).collect()
}
