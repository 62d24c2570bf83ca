//! Plain text: control characters replaced, texts joined and wrapped, lines laid out.

use crate::compile::{SAFETY_HEADING, SafetyLine};
use std::fmt::Display;

use unicode_width::UnicodeWidthStr as _;

use crate::source::is_hidden;
use crate::vocabulary::unit;

/// The least number of columns for a text beside its lead-in words. With less room, the text begins on a new line.
const BODY_LEAST: usize = 12;

/// The emphasis of a text. Without colour it is not visible.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Tone {
    Body,
    /// Titles, times and names of steps.
    Bold,
    Warning,
}

/// The layout of a text that people read.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Look {
    /// The most columns of a line. Values outside 40 to 200 are clamped.
    pub width: usize,
    /// Whether bold text and warnings are marked with ANSI escape sequences.
    pub colour: bool,
    /// Whether each step of a card ends with the calculations of its numbers.
    pub reasons: bool,
}

/// Eighty columns, without colour and without the calculations of numbers.
impl Default for Look {
    fn default() -> Look {
        Look { width: 80, colour: false, reasons: false }
    }
}

pub(super) type Piece<'a> = (Tone, &'a str);

pub(super) struct Page {
    colour: bool,
    pub(super) width: usize,
    pub(super) out: String,
}

impl Page {
    pub(super) fn new(look: Look) -> Page {
        Page { colour: look.colour, width: look.width.clamp(40, 200), out: String::new() }
    }

    pub(super) fn blank(&mut self) {
        self.out.push('\n');
    }

    pub(super) fn heading(&mut self, title: &str) {
        self.blank();
        self.line(&[(Tone::Bold, title)]);
    }

    pub(super) fn section(&mut self, title: &str, items: &[String], tone: Tone) {
        if items.is_empty() {
            return;
        }
        self.heading(title);
        let bullet = if tone == Tone::Warning { "  ! " } else { "  - " };
        items.iter().for_each(|item| self.hang(&[(tone, bullet)], (tone, item)));
    }

    /// Adds the safety block: the heading, then each line's `text` after its `word`.
    pub(super) fn safety(&mut self, lines: &[SafetyLine]) {
        let heading = SafetyLine { word: "SAFETY", text: SAFETY_HEADING.to_owned() };
        for SafetyLine { word, text } in std::iter::once(&heading).chain(lines) {
            self.hang(&[(Tone::Bold, &format!("{word:<8}"))], (Tone::Body, text));
        }
    }

    /// Adds one line, without spaces at its end.
    pub(super) fn line(&mut self, pieces: &[Piece<'_>]) {
        let painted =
            |(tone, text): &Piece<'_>| text.replacen(text.trim(), &self.painted(*tone, text.trim()), 1);
        let line: String = pieces.iter().map(painted).collect();
        self.out.extend([&line.trim_end().replace('\u{a0}', " "), "\n"]);
    }

    fn painted(&self, tone: Tone, words: &str) -> String {
        match tone {
            _ if words.is_empty() || !self.colour => words.to_owned(),
            Tone::Body => words.to_owned(),
            Tone::Bold => format!("\u{1b}[1m{words}\u{1b}[0m"),
            Tone::Warning => format!("\u{1b}[33m{words}\u{1b}[0m"),
        }
    }

    pub(super) fn body(&mut self, lead: &str, text: &str) {
        self.hang(&[(Tone::Body, lead)], (Tone::Body, text));
    }

    /// Adds `lead`, then the text. If the text is wrapped, its further lines are aligned with its first word.
    pub(super) fn hang(&mut self, lead: &[Piece<'_>], (tone, text): Piece<'_>) {
        let taken = width_of(lead);
        if taken + text.width().min(BODY_LEAST) > self.width {
            self.wrapped(lead);
            return self.hang(&[(Tone::Body, "    ")], (tone, text));
        }
        let indent = " ".repeat(taken);
        let below = [(Tone::Body, indent.as_str())];
        let mut before = lead;
        for line in wrap(text, self.width - taken) {
            self.line(&[before, &[(tone, line.as_str())]].concat());
            before = &below;
        }
    }

    fn wrapped(&mut self, pieces: &[Piece<'_>]) {
        for (tone, text) in pieces.iter().filter(|(_, text)| !text.trim().is_empty()) {
            for line in wrap(text.trim(), self.width) {
                self.line(&[(*tone, &line)]);
            }
        }
    }

    /// Adds a line with one text at the left edge, one at the right, and `between` repeated in the gap. If the two do
    /// not fit on one line, each has its own.
    pub(super) fn apart(&mut self, (tone, left): Piece<'_>, between: char, right: &[Piece<'_>]) {
        let (before, after) = (left.width(), width_of(right));
        let gap = self.width.saturating_sub(before + after);
        if gap >= 3 {
            let space = if after == 0 { "" } else { " " };
            let fill = format!(" {}{space}", between.to_string().repeat(gap - 1 - space.len()));
            self.line(&[&[(tone, left), (Tone::Body, fill.as_str())], right].concat());
            return;
        }
        self.wrapped(&[(tone, left)]);
        if after <= self.width {
            let indent = " ".repeat(self.width - after);
            self.line(&[&[(Tone::Body, indent.as_str())], right].concat());
        } else {
            self.wrapped(right);
        }
    }

    /// Adds short texts with `·` between them. Lines break at a `·` if possible.
    pub(super) fn joined(&mut self, texts: &[String]) {
        let mut row = String::new();
        for text in texts {
            let longer = if row.is_empty() { text.clone() } else { format!("{row} · {text}") };
            if longer.width() > self.width && !row.is_empty() {
                self.hang(&[], (Tone::Body, &row));
                row = text.clone();
            } else {
                row = longer;
            }
        }
        self.hang(&[], (Tone::Body, &row));
    }
}

pub(super) fn padded(text: &str, width: usize) -> String {
    format!("{text}{}", " ".repeat(width.saturating_sub(text.width())))
}

pub(super) fn widest<T: AsRef<str>>(texts: impl IntoIterator<Item = T>) -> usize {
    texts.into_iter().map(|text| text.as_ref().width()).max().unwrap_or(0)
}

/// The rows as lines, with two spaces between columns. Empty columns are left out.
pub(super) fn table<const N: usize, T: AsRef<str>>(rows: &[[T; N]]) -> Vec<String> {
    let widths: [usize; N] =
        std::array::from_fn(|column| widest(rows.iter().filter_map(|row| row.get(column))));
    let line = |row: &[T; N]| {
        let cells = row.iter().zip(widths).filter(|(_, width)| *width > 0);
        joined(cells.map(|(cell, width)| padded(cell.as_ref(), width)), "  ")
    };
    rows.iter().map(line).collect()
}

pub(super) fn aligned<'a>(numbers: impl IntoIterator<Item = &'a str>) -> Vec<String> {
    let split = |number: &'a str| number.find('.').map_or((number, ""), |at| number.split_at(at));
    let halves: Vec<(&str, &str)> = numbers.into_iter().map(split).collect();
    let before = widest(halves.iter().map(|(whole, _)| whole));
    let after = widest(halves.iter().map(|(_, part)| part));
    halves.iter().map(|(whole, part)| format!("{whole:>before$}{part:<after$}")).collect()
}

fn width_of(pieces: &[Piece<'_>]) -> usize {
    pieces.iter().map(|(_, text)| text.width()).sum()
}

pub(super) fn wrap(text: &str, width: usize) -> Vec<String> {
    broken(text, |line| line.width() <= width)
}

/// Breaks the text into lines for which `fits` is true: at spaces, or within a word that is longer than a line. A
/// number and its unit stay together.
pub(super) fn broken(text: &str, fits: impl Fn(&str) -> bool) -> Vec<String> {
    let (mut lines, mut line) = (Vec::new(), String::new());
    for word in bound(text).split(' ') {
        let end = line.len();
        if end > 0 {
            line.push(' ');
        }
        line.push_str(word);
        if fits(&line) {
            continue;
        }
        line.truncate(end);
        lines.extend((!line.is_empty()).then(|| std::mem::take(&mut line)));
        for letter in word.chars() {
            line.push(letter);
            if line.len() > letter.len_utf8() && !fits(&line) {
                line.pop();
                // A word that must be broken is broken after a hyphen, if it has one.
                let rest = line.rfind('-').map(|hyphen| line.split_off(hyphen + 1)).unwrap_or_default();
                lines.push(std::mem::replace(&mut line, rest));
                line.push(letter);
            }
        }
    }
    lines.push(line);
    lines.iter().map(|line| line.trim_end().replace('\u{a0}', " ")).collect()
}

/// The text if it fits, else the longest start of it that fits with `…` after it.
pub(super) fn cut(text: &str, fits: impl Fn(&str) -> bool) -> String {
    if fits(text) {
        return text.to_owned();
    }
    let starts = text.char_indices().filter_map(|(end, _)| text.get(..end));
    let starts = starts.map(|start| format!("{}\u{2026}", start.trim_end()));
    starts.take_while(|start| fits(start)).last().unwrap_or_default()
}

/// The text with no-break spaces between a number and its unit, and before `·`.
pub(super) fn bound(text: &str) -> String {
    let mut out = String::with_capacity(text.len() + 4);
    let mut number = false;
    for (at, word) in text.split(' ').enumerate() {
        let bare = word.trim_end_matches([',', ';', ':', '.', ')']);
        if at > 0 {
            let tied = word == "·" || number && (bare == "%" || unit(bare).is_some());
            out.push(if tied { '\u{a0}' } else { ' ' });
        }
        number = word.ends_with(|last: char| last.is_ascii_digit());
        out.push_str(word);
    }
    out
}

/// The text on one line, with spaces for line endings and tabs, and U+FFFD for other control and hidden characters.
pub(super) fn plain(text: &str) -> String {
    text.chars().map(shown).collect()
}

fn shown(letter: char) -> char {
    match letter {
        '\n' | '\t' => ' ',
        letter if is_hidden(letter) => char::REPLACEMENT_CHARACTER,
        letter => letter,
    }
}

pub(super) fn all_plain(texts: &[String]) -> Vec<String> {
    texts.iter().map(|text| plain(text)).collect()
}

/// `words`, followed by `value`; empty if there is no value.
pub(super) fn prefixed(words: &str, value: Option<impl Display>) -> String {
    value.map(|value| format!("{words}{value}")).unwrap_or_default()
}

pub(super) fn joined(texts: impl IntoIterator<Item = impl Display>, between: &str) -> String {
    texts.into_iter().map(|text| text.to_string()).collect::<Vec<_>>().join(between)
}

pub(super) fn distinct(texts: impl Iterator<Item = String>) -> Vec<String> {
    let mut all: Vec<String> = Vec::new();
    for text in texts {
        if !all.contains(&text) {
            all.push(text);
        }
    }
    all
}

/// The text escaped for HTML and XML, with U+FFFD for hidden characters and for those that XML forbids.
pub(crate) fn escaped(text: &str) -> String {
    let mut markup = String::with_capacity(text.len());
    for letter in text.chars().map(shown) {
        match letter {
            '&' => markup.push_str("&amp;"),
            '<' => markup.push_str("&lt;"),
            '>' => markup.push_str("&gt;"),
            '"' => markup.push_str("&quot;"),
            '\'' => markup.push_str("&#39;"),
            '\u{fffe}' | '\u{ffff}' => markup.push(char::REPLACEMENT_CHARACTER),
            letter => markup.push(letter),
        }
    }
    markup
}

/// A command line of these words. A word is quoted if a shell would change it without quotes.
pub fn command_line(words: impl IntoIterator<Item = impl AsRef<str>>) -> String {
    let is_plain = |letter: char| letter.is_ascii_alphanumeric() || "-_./,=+:@%".contains(letter);
    let quoted = |word: &str| match !word.is_empty() && word.chars().all(is_plain) {
        true => word.to_owned(),
        false => format!("'{}'", word.replace('\'', "'\\''")),
    };
    joined(words.into_iter().map(|word| quoted(word.as_ref())), " ")
}
