//! Draws findings as text, each with the source lines that it is about.

use std::borrow::Cow;

use codespan_reporting::diagnostic::{Diagnostic as Drawing, Label, Severity};
use codespan_reporting::files::{Files as _, SimpleFiles};
use codespan_reporting::term::termcolor::Ansi;
use codespan_reporting::term::{self, Chars, Config, Styles, StylesWriter};

use super::finding::one_line;
use super::sanitise::sanitise;
use crate::source::{Diagnostic, FileId, Level, Set, Sources, Span};

/// The most findings that a report draws with their source lines. The totals at the end of the report include the
/// others.
pub const DRAWN_MAX: usize = 50;
const PLACES_MAX: usize = 20;
/// The longest source line that is drawn, in bytes. From a longer line, the report quotes only the text of the span.
const LINE_BYTES_MAX: usize = 400;
/// The width of help lines in characters, without the margin for line numbers.
const NOTE_WIDTH: usize = 72;
const QUOTED_MAX: usize = 60;

/// Whether a report has colours.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Look {
    /// No colour.
    Plain,
    /// With terminal colours.
    Colour,
}

/// The files of a report, numbered as in [`Sources`]. Characters that could control a terminal are replaced.
type Files<'a> = SimpleFiles<String, Cow<'a, str>>;

/// Draws the first [`DRAWN_MAX`] findings, in the order of `findings`, and counts the others in a last line.
pub fn draw(sources: &Sources, findings: &[Diagnostic], look: Look) -> String {
    let drawn = findings.get(..DRAWN_MAX).unwrap_or(findings);
    let files = files(sources, drawn);
    let config = Config { chars: chars(), tab_width: 4, ..Config::default() };
    let mut text = String::new();
    for finding in drawn {
        let drawing = drawing(sources, &files, finding);
        let mut bytes = Vec::new();
        // Drawing cannot fail here: it writes to memory, and `files` has every file of the finding.
        let _ = match look {
            Look::Plain => term::emit_to_io_write(&mut bytes, &config, &files, &drawing),
            Look::Colour => {
                let styles = Styles::default();
                let mut writer = StylesWriter::new(Ansi::new(&mut bytes), &styles);
                term::emit_to_write_style(&mut writer, &config, &files, &drawing)
            }
        };
        let drawn = String::from_utf8_lossy(&bytes);
        // The drawing library has no severity `advice`. Its text begins with the word `note`, which is replaced by
        // `advice`.
        text.push_str(&match finding.level {
            Level::Advice => drawn.replacen("note", Level::Advice.word(), 1),
            Level::Error | Level::Warning => drawn.into_owned(),
        });
    }
    if drawn.len() < findings.len() {
        text.push_str(&format!("and {} more\n\n", findings.len() - drawn.len()));
    }
    text
}

/// The characters that frame source lines. All are ASCII, so that a report can be pasted into any text.
fn chars() -> Chars {
    Chars {
        snippet_start: "at".to_owned(),
        source_border_left: ':',
        note_bullet: ' ',
        single_primary_caret: '~',
        multi_primary_caret_start: '~',
        multi_primary_caret_end: '~',
        ..Chars::ascii()
    }
}

fn files<'a>(sources: &'a Sources, findings: &[Diagnostic]) -> Files<'a> {
    let ids: Set<FileId> = findings.iter().flat_map(places).map(|(span, _)| span.file).collect();
    let mut files = Files::new();
    for (id, file) in sources.iter() {
        let text = if ids.contains(&id) { sanitise(&file.text) } else { Cow::default() };
        files.add(one_line(&file.name), text);
    }
    files
}

fn places(finding: &Diagnostic) -> impl Iterator<Item = (Span, &str)> {
    let others = finding.others.iter().map(|(span, words)| (*span, words.as_str()));
    std::iter::once((finding.span, finding.label.as_str())).chain(others)
}

fn drawing(sources: &Sources, files: &Files<'_>, finding: &Diagnostic) -> Drawing<usize> {
    let severity = match finding.level {
        Level::Error => Severity::Error,
        Level::Warning => Severity::Warning,
        Level::Advice => Severity::Note,
    };
    let mut drawing =
        Drawing::new(severity).with_code(finding.name).with_message(sanitise(&finding.message).into_owned());
    for (number, (span, words)) in places(finding).take(PLACES_MAX).enumerate() {
        let (words, id) = (one_line(words), span.file.0 as usize);
        let label = if number == 0 { Label::primary } else { Label::secondary };
        match quoted(sources, files, span) {
            Some(quote) => drawing.notes.push(format!("{quote} {words}").trim_end().to_owned()),
            None => drawing.labels.push(label(id, span.range()).with_message(words)),
        }
    }
    drawing.notes.extend(finding.help.iter().map(|help| wrapped(&one_line(help))));
    drawing
}

fn wrapped(help: &str) -> String {
    let options = textwrap::Options::new(NOTE_WIDTH)
        .initial_indent("help: ")
        .subsequent_indent("      ")
        .break_words(false)
        .word_splitter(textwrap::WordSplitter::NoHyphenation);
    textwrap::fill(help, options)
}

/// The file, line and column of a span, with the first characters of its text, if its line is too long to draw. `None`
/// for a line that can be drawn.
fn quoted(sources: &Sources, files: &Files<'_>, span: Span) -> Option<String> {
    let id = span.file.0 as usize;
    let line = files.line_range(id, files.line_index(id, span.start as usize).ok()?).ok()?;
    if line.len() <= LINE_BYTES_MAX {
        return None;
    }
    let words: String = sources.slice(span).chars().take(QUOTED_MAX).collect();
    let place = sources.place(span);
    let name = one_line(sources.name(span.file));
    Some(format!("{name}:{}:{}: {}", place.line, place.column, one_line(&words)))
}
