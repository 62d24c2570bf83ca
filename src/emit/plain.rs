//! Makes text from recipes safe to show: it cannot move a cursor, reverse a line or hide a letter.

use std::fmt::Display;

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

/// The value after those words, or nothing.
pub(super) fn prefixed(words: &str, value: Option<impl Display>) -> String {
    value.map(|value| format!("{words}{value}")).unwrap_or_default()
}

/// The texts with those words between them.
pub(super) fn joined(texts: impl IntoIterator<Item = impl Display>, between: &str) -> String {
    texts.into_iter().map(|text| text.to_string()).collect::<Vec<_>>().join(between)
}

/// The texts without repeats.
pub(super) fn distinct(texts: impl Iterator<Item = String>) -> Vec<String> {
    let mut all: Vec<String> = Vec::new();
    for text in texts {
        if !all.contains(&text) {
            all.push(text);
        }
    }
    all
}

/// The text made plain, for HTML and XML; U+FFFD replaces what XML cannot hold.
pub(super) fn escaped(text: &str) -> String {
    let markup = plain(text).replace('&', "&amp;").replace('<', "&lt;").replace('>', "&gt;");
    markup.replace('"', "&quot;").replace('\'', "&#39;").replace(['\u{fffe}', '\u{ffff}'], "\u{fffd}")
}
