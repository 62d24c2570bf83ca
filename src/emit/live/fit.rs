//! Text, bars and large digits in a given number of columns.

use unicode_width::{UnicodeWidthChar, UnicodeWidthStr};

use crate::emit::page::wrap;

/// Marks a cut.
const CUT: char = '\u{2026}';

/// The text, cut to this many columns.
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

/// The text after a label, on at most `most` lines; a number and its unit stay together.
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

/// Two texts at the two ends of a line; the left one is cut first.
pub(super) fn ends(left: &str, right: &str, columns: usize) -> String {
    let right = cut(right, columns);
    let room = columns.saturating_sub(right.width() + 1);
    let left = cut(left, room);
    let gap = columns.saturating_sub(left.width() + right.width());
    format!("{left}{}{right}", " ".repeat(gap))
}

/// A bar of this many columns, filled to `done / whole`.
pub(super) fn bar(done: i64, whole: i64, columns: usize) -> String {
    let wide = i64::try_from(columns).unwrap_or(0);
    let filled = if whole > 0 { done.clamp(0, whole).saturating_mul(wide) / whole } else { wide };
    let filled = usize::try_from(filled).unwrap_or(0).min(columns);
    format!("{}{}", "\u{2588}".repeat(filled), "\u{2591}".repeat(columns - filled))
}

/// Rows of blocks in a large digit.
pub(super) const DIGIT_ROWS: usize = 5;
/// Columns of blocks in `12:34`; a longer clock has narrower blocks.
const CLOCK_COLUMNS: usize = 17;

/// The rows of each digit; `#` is a block.
const DIGITS: [(char, [&str; DIGIT_ROWS]); 11] = [
    ('0', ["###", "# #", "# #", "# #", "###"]),
    ('1', [" # ", "## ", " # ", " # ", "###"]),
    ('2', ["###", "  #", "###", "#  ", "###"]),
    ('3', ["###", "  #", "###", "  #", "###"]),
    ('4', ["# #", "# #", "###", "  #", "  #"]),
    ('5', ["###", "#  ", "###", "  #", "###"]),
    ('6', ["###", "#  ", "###", "# #", "###"]),
    ('7', ["###", "  #", "  #", "  #", "  #"]),
    ('8', ["###", "# #", "###", "# #", "###"]),
    ('9', ["###", "# #", "###", "  #", "###"]),
    (':', [" ", "#", " ", "#", " "]),
];

/// The largest height of a block, in rows, with which a clock fits.
pub(super) fn scale(columns: usize, rows: usize) -> usize {
    (columns / (2 * CLOCK_COLUMNS)).min(rows / DIGIT_ROWS).max(1)
}

/// A clock such as `12:34` in blocks of `scale` rows and up to twice as many columns; `None` if it does not fit.
pub(super) fn large(clock: &str, columns: usize, scale: usize) -> Option<Vec<String>> {
    let digits: Vec<&[&str; DIGIT_ROWS]> = clock
        .chars()
        .filter_map(|letter| DIGITS.iter().find(|(known, _)| *known == letter).map(|(_, rows)| rows))
        .collect();
    let blocks: usize = digits.iter().map(|[first, ..]| first.len() + 1).sum();
    let wide = (1..=2 * scale).rev().find(|wide| blocks.saturating_sub(1) * wide <= columns)?;
    let row = |at: usize| {
        let pieces: Vec<&str> = digits.iter().filter_map(|rows| rows.get(at).copied()).collect();
        let row = pieces.join(" ").replace('#', "\u{2588}");
        row.chars().flat_map(|block| std::iter::repeat_n(block, wide)).collect::<String>()
    };
    Some((0..DIGIT_ROWS).flat_map(|at| std::iter::repeat_n(row(at), scale)).collect())
}
