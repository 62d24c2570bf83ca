//! Makes a recipe's words harmless. Every text that a stranger may have written passes here once on
//! its way out, so that no title can move a cursor, turn a line around or hide a letter.

use crate::source::is_hidden;

/// The text on one line, each hidden character shown as U+FFFD.
pub(super) fn plain(text: &str) -> String {
    text.chars().map(shown).collect()
}

/// Each of the texts, in their order.
pub(super) fn all_plain(texts: &[String]) -> Vec<String> {
    texts.iter().map(|text| plain(text)).collect()
}

fn shown(letter: char) -> char {
    match letter {
        '\n' | '\t' => ' ',
        letter if is_hidden(letter) => char::REPLACEMENT_CHARACTER,
        letter => letter,
    }
}
