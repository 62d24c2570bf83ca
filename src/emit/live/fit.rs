//! Words and bars in as many columns as there are.

use unicode_width::{UnicodeWidthChar, UnicodeWidthStr};

use crate::emit::page::wrap;

/// Stands where something was cut off.
const CUT: char = '\u{2026}';

/// The text, cut to that many columns.
pub(super) fn cut(text: &str, columns: usize) -> String {
    if text.width() <= columns {
        return text.to_owned();
    }
    let (mut kept, mut used) = (String::new(), 1);
    for letter in text.chars() {
        used += letter.width().unwrap_or(0);
        if used > columns {
            break;
        }
        kept.push(letter);
    }
    if columns > 0 {
        kept.push(CUT);
    }
    kept
}

/// The text on so many lines at most, behind a word that says what it is; a number and its unit stay together.
pub(super) fn labelled(label: &str, text: &str, columns: usize, most: usize) -> Vec<String> {
    let indent = label.width() + 1;
    let room = columns.saturating_sub(indent).max(1);
    let all = wrap(text, room);
    let over = all.len() > most;
    let lines = all.iter().take(most).enumerate().map(|(at, line)| {
        let before = if at == 0 { label } else { "" };
        let line = if over && at + 1 == most { cut(&format!("{line}{CUT}"), room) } else { line.clone() };
        cut(&format!("{before:indent$}{line}"), columns).replace('\u{a0}', " ")
    });
    lines.collect()
}

/// Two texts at the two ends of a line; the right one is kept whole as long as there is room.
pub(super) fn ends(left: &str, right: &str, columns: usize) -> String {
    let right = cut(right, columns);
    let room = columns.saturating_sub(right.width() + 1);
    let left = cut(left, room);
    let gap = columns.saturating_sub(left.width() + right.width());
    format!("{left}{}{right}", " ".repeat(gap))
}

/// A bar of that many columns, filled as far as `done` is of `whole`.
pub(super) fn bar(done: i64, whole: i64, columns: usize) -> String {
    let wide = i64::try_from(columns).unwrap_or(0);
    let filled = if whole > 0 { done.clamp(0, whole).saturating_mul(wide) / whole } else { wide };
    let filled = usize::try_from(filled).unwrap_or(0).min(columns);
    format!("{}{}", "\u{2588}".repeat(filled), "\u{2591}".repeat(columns - filled))
}
