//! Characters that do not show, or that make a line read otherwise than it stands: controls, marks
//! that turn the direction of text, and letters without width.

/// Whether a recipe may not hold this character (tab and line ending aside). The list is Unicode's
/// control characters, its bidirectional controls and its default-ignorable format characters.
#[must_use]
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
