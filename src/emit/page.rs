//! Lines on a page of a given width: wrapping, hanging and alignment by what a terminal shows, not by
//! bytes. Knows nothing of cards.

use textwrap::{Options, WordSeparator, WordSplitter, WrapAlgorithm};
use unicode_width::UnicodeWidthStr as _;

use super::style::{Look, Tone};
use crate::vocabulary::unit;

const WIDTH_LEAST: usize = 40;
const WIDTH_MOST: usize = 200;
/// A body is not squeezed into less than this beside its lead.
const BODY_LEAST: usize = 12;

/// A piece of a line and its tone.
pub(super) type Piece<'a> = (Tone, &'a str);

/// A page that grows downwards.
pub(super) struct Page {
    look: Look,
    width: usize,
    out: String,
}

impl Page {
    /// An empty page.
    pub(super) fn new(look: Look) -> Page {
        Page { look, width: look.width.clamp(WIDTH_LEAST, WIDTH_MOST), out: String::new() }
    }

    /// The columns that a line may take.
    pub(super) fn width(&self) -> usize {
        self.width
    }

    /// All that was written.
    pub(super) fn finish(self) -> String {
        self.out
    }

    /// An empty line.
    pub(super) fn blank(&mut self) {
        self.out.push('\n');
    }

    /// The head of a section.
    pub(super) fn heading(&mut self, title: &str) {
        self.line(&[(Tone::Head, title)]);
    }

    /// A line that is known to fit.
    pub(super) fn line(&mut self, pieces: &[Piece<'_>]) {
        let last = pieces.iter().rposition(|(_, text)| !text.trim_end().is_empty());
        for (at, (tone, text)) in pieces.iter().enumerate().take(last.map_or(0, |last| last + 1)) {
            let text = if Some(at) == last { text.trim_end() } else { text };
            let inner = text.trim_start();
            self.out.push_str(&text.strip_suffix(inner).unwrap_or("").replace('\u{a0}', " "));
            if !inner.is_empty() {
                self.out.push_str(&self.look.paint.mark(*tone, &inner.replace('\u{a0}', " ")));
            }
        }
        self.out.push('\n');
    }

    /// Text behind a lead; its further lines begin where the first did.
    pub(super) fn hang(&mut self, lead: &[Piece<'_>], (tone, text): Piece<'_>) {
        let taken = width_of(lead);
        if taken + text.width().min(BODY_LEAST) > self.width {
            self.wrapped(lead);
            return self.hang(&[(Tone::Body, "    ")], (tone, text));
        }
        let indent = " ".repeat(taken);
        for (at, line) in wrap(text, self.width - taken).iter().enumerate() {
            if at == 0 {
                self.line(&[lead, &[(tone, line.as_str())]].concat());
            } else {
                self.line(&[(Tone::Body, indent.as_str()), (tone, line.as_str())]);
            }
        }
    }

    /// Pieces that do not fit on one line, each wrapped by itself.
    fn wrapped(&mut self, pieces: &[Piece<'_>]) {
        for (tone, text) in pieces.iter().filter(|(_, text)| !text.trim().is_empty()) {
            for line in wrap(text.trim(), self.width) {
                self.line(&[(*tone, &line)]);
            }
        }
    }

    /// One text at the left edge, others at the right, with `between` filling the gap; on two lines where
    /// they do not fit on one.
    pub(super) fn apart(&mut self, (tone, left): Piece<'_>, between: char, right: &[Piece<'_>]) {
        let (before, after) = (left.width(), width_of(right));
        let gap = self.width.saturating_sub(before + after);
        if gap >= 3 {
            let ends = if after == 0 { 1 } else { 2 };
            let fill = between.to_string().repeat(gap - ends);
            let fill = if after == 0 { format!(" {fill}") } else { format!(" {fill} ") };
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

    /// Short texts in a row, with a dot between; a line ends between two of them where it can.
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

/// The text with spaces behind it, up to that width.
pub(super) fn padded(text: &str, width: usize) -> String {
    format!("{text}{}", " ".repeat(width.saturating_sub(text.width())))
}

fn width_of(pieces: &[Piece<'_>]) -> usize {
    pieces.iter().map(|(_, text)| text.width()).sum()
}

/// Lines of at most that width; a name is not broken at its hyphens, nor a number from its unit.
pub(super) fn wrap(text: &str, width: usize) -> Vec<String> {
    let text = bound(text);
    // A letter may take more room beside its neighbour than alone: the room is narrowed until all lines fit.
    for room in (1..=width).rev() {
        let options = Options::new(room)
            .word_separator(WordSeparator::AsciiSpace)
            .word_splitter(WordSplitter::NoHyphenation)
            .wrap_algorithm(WrapAlgorithm::FirstFit);
        let lines: Vec<String> = textwrap::wrap(&text, options).iter().map(|line| line.to_string()).collect();
        if lines.iter().all(|line| line.width() <= width) {
            return lines;
        }
    }
    vec![text]
}

/// The text with no place to break between a number and its unit, or before a dot.
pub(super) fn bound(text: &str) -> String {
    let mut out = String::new();
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
