//! Shortens the text that messages quote from files, and recognises invisible characters.

/// The most characters of a text that a message quotes.
const LETTERS_MAX: usize = 60;
const NAMES_MAX: usize = 8;

/// The text `words`; if it is longer than 60 characters, only its first 60 and `…`.
pub fn clip(words: &str) -> String {
    match words.char_indices().nth(LETTERS_MAX) {
        Some((end, _)) => format!("{}…", words.get(..end).unwrap_or("")),
        None => words.to_owned(),
    }
}

/// The first eight of `names`, joined by `between`, and `…` if there are more. A name longer than 60 characters is cut.
pub fn first_few<'a>(names: impl IntoIterator<Item = &'a str>, between: &str) -> String {
    let mut names = names.into_iter();
    let mut few: Vec<String> = names.by_ref().take(NAMES_MAX).map(clip).collect();
    if names.next().is_some() {
        few.push("…".to_owned());
    }
    few.join(between)
}

/// Whether a text has an invisible or direction-changing character, as [`is_hidden`] defines it.
pub fn has_hidden(text: &str) -> bool {
    let plain = |byte: u8| (0x20..0x7f).contains(&byte) || byte == b'\n' || byte == b'\t';
    // Unlike `all`, `fold` does not stop at the first match, so the compiled code can test many bytes at once.
    !text.bytes().fold(true, |all, byte| all & plain(byte)) && text.chars().any(is_hidden)
}

/// Whether a character is invisible or changes the direction of text: control characters except tab and line feed, line
/// separators, bidirectional controls, and invisible format characters.
pub fn is_hidden(letter: char) -> bool {
    match letter {
        '\n' | '\t' => false,
        '\u{ad}'
        | '\u{61c}'
        | '\u{180e}'
        | '\u{200b}'..='\u{200f}'
        | '\u{2028}'..='\u{202e}'
        | '\u{2060}'..='\u{206f}'
        | '\u{feff}'
        | '\u{fff9}'..='\u{fffb}'
        | '\u{e0000}'..='\u{e0fff}' => true,
        other => other.is_control(),
    }
}
