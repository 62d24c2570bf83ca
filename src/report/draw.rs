//! Findings drawn below the lines of their files.

use std::collections::BTreeSet;
use std::ops::Range;

use codespan_reporting::diagnostic::{Diagnostic as Drawing, Label, Severity};
use codespan_reporting::files::{Error, Files};
use codespan_reporting::term::termcolor::Ansi;
use codespan_reporting::term::{self, Chars, Config, Styles, StylesWriter};

use super::finding::one_line;
use super::sanitise::sanitise;
use crate::source::{Diagnostic, FileId, Level, SourceFile, Sources, Span};

/// The most findings in a report; its counts include all.
pub const DRAWN_MAX: usize = 50;
/// The most places of a finding.
const PLACES_MAX: usize = 20;
/// A place on a longer line is quoted, not drawn.
const LINE_BYTES_MAX: usize = 400;
/// The columns of a help line after the line numbers.
const NOTE_WIDTH: usize = 72;
/// The most characters quoted of a long line.
const QUOTED_MAX: usize = 60;

/// The style of a report.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Look {
    /// No colour.
    Plain,
    /// With terminal colours.
    Colour,
}

/// The findings in the order given, at most [`DRAWN_MAX`].
#[must_use]
pub fn draw(sources: &Sources, findings: &[Diagnostic], look: Look) -> String {
    let files = Shown::of(sources, findings);
    let config = Config { chars: chars(), tab_width: 4, ..Config::default() };
    let mut text = String::new();
    for finding in findings.iter().take(DRAWN_MAX) {
        let drawing = drawing(sources, finding);
        let mut bytes = Vec::new();
        // Writing to memory cannot fail, and every file is known.
        let _ = match look {
            Look::Plain => term::emit_to_io_write(&mut bytes, &config, &files, &drawing),
            Look::Colour => {
                let styles = Styles::default();
                let mut writer = StylesWriter::new(Ansi::new(&mut bytes), &styles);
                term::emit_to_write_style(&mut writer, &config, &files, &drawing)
            }
        };
        let drawn = String::from_utf8_lossy(&bytes);
        // The library has no such severity; its word `note` comes first.
        text.push_str(&match finding.level {
            Level::Advice => drawn.replacen("note", Level::Advice.word(), 1),
            Level::Error | Level::Warning => drawn.into_owned(),
        });
    }
    if findings.len() > DRAWN_MAX {
        text.push_str(&format!("and {} more\n\n", findings.len() - DRAWN_MAX));
    }
    text
}

/// The characters of a report: all ASCII, so that it can be pasted anywhere.
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

fn drawing(sources: &Sources, finding: &Diagnostic) -> Drawing<FileId> {
    let severity = match finding.level {
        Level::Error => Severity::Error,
        Level::Warning => Severity::Warning,
        Level::Advice => Severity::Note,
    };
    let mut drawing =
        Drawing::new(severity).with_code(finding.name).with_message(sanitise(&finding.message).into_owned());
    let first = (finding.span, finding.label.as_str());
    let others = finding.others.iter().map(|(span, words)| (*span, words.as_str()));
    for (number, (span, words)) in std::iter::once(first).chain(others).take(PLACES_MAX).enumerate() {
        let words = one_line(words);
        match quoted(sources, span) {
            Some(quote) => drawing.notes.push(format!("{quote} {words}").trim_end().to_owned()),
            None if number == 0 => {
                drawing.labels.push(Label::primary(span.file, span.range()).with_message(words));
            }
            None => drawing.labels.push(Label::secondary(span.file, span.range()).with_message(words)),
        }
    }
    drawing.notes.extend(finding.help.iter().map(|help| wrapped(&one_line(help))));
    drawing
}

/// A help text, wrapped and indented.
fn wrapped(help: &str) -> String {
    let options = textwrap::Options::new(NOTE_WIDTH)
        .initial_indent("help: ")
        .subsequent_indent("      ")
        .break_words(false)
        .word_splitter(textwrap::WordSplitter::NoHyphenation);
    textwrap::fill(help, options)
}

/// The quote of a place on a line too long to draw.
fn quoted(sources: &Sources, span: Span) -> Option<String> {
    let file = sources.get(span.file)?;
    let line = line_range(file, line_index(file, span.start as usize))?;
    if line.len() <= LINE_BYTES_MAX {
        return None;
    }
    let words: String = sources.slice(span).chars().take(QUOTED_MAX).collect();
    let place = sources.place(span);
    let name = one_line(sources.name(span.file));
    Some(format!("{name}:{}:{}: {}", place.line, place.column, one_line(&words)))
}

fn line_index(file: &SourceFile, byte: usize) -> usize {
    file.line_starts().partition_point(|start| *start as usize <= byte).saturating_sub(1)
}

fn line_range(file: &SourceFile, index: usize) -> Option<Range<usize>> {
    let start = *file.line_starts().get(index)? as usize;
    let end = file.line_starts().get(index + 1).map_or(file.text().len(), |next| *next as usize);
    Some(start..end)
}

/// The files of a report with texts that are safe to show.
struct Shown<'a> {
    sources: &'a Sources,
    texts: Vec<(FileId, String, String)>,
}

impl<'a> Shown<'a> {
    fn of(sources: &'a Sources, findings: &[Diagnostic]) -> Shown<'a> {
        let spans = findings.iter().take(DRAWN_MAX).flat_map(|finding| {
            std::iter::once(finding.span).chain(finding.others.iter().map(|(span, _)| *span))
        });
        let ids: BTreeSet<FileId> = spans.map(|span| span.file).collect();
        let shown = |id: FileId| (id, one_line(sources.name(id)), sanitise(sources.text(id)).into_owned());
        Shown { sources, texts: ids.into_iter().map(shown).collect() }
    }

    fn text(&self, id: FileId) -> Result<&(FileId, String, String), Error> {
        self.texts.iter().find(|(own, ..)| *own == id).ok_or(Error::FileMissing)
    }

    fn file(&self, id: FileId) -> Result<&SourceFile, Error> {
        self.sources.get(id).ok_or(Error::FileMissing)
    }
}

impl<'a> Files<'a> for Shown<'_> {
    type FileId = FileId;
    type Name = &'a str;
    type Source = &'a str;

    fn name(&'a self, id: FileId) -> Result<&'a str, Error> {
        Ok(&self.text(id)?.1)
    }

    fn source(&'a self, id: FileId) -> Result<&'a str, Error> {
        Ok(&self.text(id)?.2)
    }

    fn line_index(&'a self, id: FileId, byte: usize) -> Result<usize, Error> {
        Ok(line_index(self.file(id)?, byte))
    }

    fn line_range(&'a self, id: FileId, index: usize) -> Result<Range<usize>, Error> {
        let file = self.file(id)?;
        let max = file.line_starts().len();
        line_range(file, index).ok_or(Error::LineTooLarge { given: index, max })
    }
}
