//! Makes text safe to show: replaces invisible characters and those that control a terminal.

use std::borrow::Cow;

use crate::source::{has_hidden, is_hidden};

/// The text with each invisible or control character replaced by visible text of as many bytes, so that spans stay
/// valid. A carriage return before a line feed is kept.
pub fn sanitise(text: &str) -> Cow<'_, str> {
    if !has_hidden(text) {
        return Cow::Borrowed(text);
    }
    let mut safe = String::with_capacity(text.len());
    let mut letters = text.chars().peekable();
    while let Some(letter) = letters.next() {
        let line_ending = letter == '\r' && letters.peek() == Some(&'\n');
        match letter.len_utf8() {
            _ if line_ending || !is_hidden(letter) => safe.push(letter),
            1 => safe.push('?'),
            2 => safe.push('\u{bf}'),
            3 => safe.push('\u{fffd}'),
            _ => safe.push_str("\u{fffd}?"),
        }
    }
    Cow::Owned(safe)
}

/// A JSON text with each invisible or control character escaped, as in `\u202e`. In valid JSON such characters occur
/// only in strings, so the data stay the same.
pub fn escaped(json: String) -> String {
    if !has_hidden(&json) {
        return json;
    }
    let mut safe = String::with_capacity(json.len());
    for letter in json.chars() {
        if is_hidden(letter) {
            let mut units = [0; 2];
            letter.encode_utf16(&mut units).iter().for_each(|unit| safe.push_str(&format!("\\u{unit:04x}")));
        } else {
            safe.push(letter);
        }
    }
    safe
}
