//! Makes text safe to show: replaces invisible characters and those that control a terminal.

use std::borrow::Cow;

use crate::source::is_hidden;

/// The text with every hidden character replaced by marks of the same length in bytes, so that spans stay valid.
/// A carriage return before a line feed stays.
pub fn sanitise(text: &str) -> Cow<'_, str> {
    if !text.chars().any(is_hidden) {
        return Cow::Borrowed(text);
    }
    let mut safe = String::with_capacity(text.len());
    let mut letters = text.chars().peekable();
    while let Some(letter) = letters.next() {
        let line_ending = letter == '\r' && letters.peek() == Some(&'\n');
        safe.push_str(match (is_hidden(letter) && !line_ending, letter.len_utf8()) {
            (false, _) => {
                safe.push(letter);
                continue;
            }
            (true, 1) => "?",
            (true, 2) => "\u{bf}",
            (true, 3) => "\u{fffd}",
            (true, _) => "\u{fffd}?",
        });
    }
    Cow::Owned(safe)
}

/// JSON with every hidden character escaped, as in `\u202e`. Valid JSON has hidden characters in strings only.
pub fn escaped(json: String) -> String {
    if !json.chars().any(is_hidden) {
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
