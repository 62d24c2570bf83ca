//! Draws findings under the recipe's own lines, several files in one report.

use std::ops::Range;

use codespan_reporting::diagnostic::{Diagnostic as Drawing, Label, Severity};
use codespan_reporting::files::{Error, Files};
use codespan_reporting::term::termcolor::Ansi;
use codespan_reporting::term::{self, Chars, Config, Styles, StylesWriter};

use super::sanitise::sanitise;
use super::told::one_line;
use crate::source::{Diagnostic, FileId, Level, SourceFile, Sources, Span};

/// A report shows this many findings; the count tells of all.
pub const DRAWN_MAX: usize = 50;
/// A finding shows this many places.
const PLACES_MAX: usize = 20;
/// A longer line is told in words, not drawn.
const LINE_BYTES_MAX: usize = 400;
/// What is left of 80 columns for a help line, behind the line numbers.
const NOTE_WIDTH: usize = 72;
/// So much of such a line is quoted.
const QUOTED_MAX: usize = 60;

/// How a report looks.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Look {
    /// No colour.
    Plain,
    /// In a terminal's colours.
    Colour,
}

/// The findings as a person reads them, in the order given, at most [`DRAWN_MAX`].
#[must_use]
pub fn draw(sources: &Sources, findings: &[Diagnostic], look: Look) -> String {
    let files = Shown::of(sources, findings);
    let config = Config { chars: chars(), tab_width: 4, ..Config::default() };
    let mut text = String::new();
    for finding in findings.iter().take(DRAWN_MAX) {
        let drawing = drawing(sources, finding);
        let mut bytes = Vec::new();
        // The only errors are of writing to memory and of files that are not here; neither occurs.
        let _ = match look {
            Look::Plain => term::emit_to_io_write(&mut bytes, &config, &files, &drawing),
            Look::Colour => {
                let styles = Styles::default();
                let mut writer = StylesWriter::new(Ansi::new(&mut bytes), &styles);
                term::emit_to_write_style(&mut writer, &config, &files, &drawing)
            }
        };
        let drawn = String::from_utf8_lossy(&bytes);
        // The library knows no advice. Its own word comes first in what it writes.
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

/// The signs of a report: all ASCII, so that it can be pasted anywhere.
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

/// A help line, broken at the report's width and set off where it goes on.
fn wrapped(help: &str) -> String {
    let options = textwrap::Options::new(NOTE_WIDTH)
        .initial_indent("help: ")
        .subsequent_indent("      ")
        .break_words(false)
        .word_splitter(textwrap::WordSplitter::NoHyphenation);
    textwrap::fill(help, options)
}

/// The words for a place on a line too long to draw.
fn quoted(sources: &Sources, span: Span) -> Option<String> {
    let line = line_of(sources.get(span.file)?, span.start as usize)?;
    if line.len() <= LINE_BYTES_MAX {
        return None;
    }
    let words: String = sources.slice(span).chars().take(QUOTED_MAX).collect();
    let place = sources.place(span);
    let name = one_line(sources.name(span.file));
    Some(format!("{name}:{}:{}: {}", place.line, place.column, one_line(&words)))
}

fn line_of(file: &SourceFile, byte: usize) -> Option<Range<usize>> {
    let index = file.line_starts().partition_point(|start| *start as usize <= byte).checked_sub(1)?;
    let start = *file.line_starts().get(index)? as usize;
    let end = file.line_starts().get(index + 1).map_or(file.text().len(), |next| *next as usize);
    Some(start..end)
}

/// The files of a report as they are shown.
struct Shown<'a> {
    sources: &'a Sources,
    texts: Vec<(FileId, String, String)>,
}

impl<'a> Shown<'a> {
    fn of(sources: &'a Sources, findings: &[Diagnostic]) -> Shown<'a> {
        let mut ids: Vec<FileId> = findings
            .iter()
            .take(DRAWN_MAX)
            .flat_map(|finding| {
                std::iter::once(finding.span.file).chain(finding.others.iter().map(|(span, _)| span.file))
            })
            .collect();
        ids.sort_unstable();
        ids.dedup();
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
        Ok(self.file(id)?.line_starts().partition_point(|start| *start as usize <= byte).saturating_sub(1))
    }

    fn line_range(&'a self, id: FileId, index: usize) -> Result<Range<usize>, Error> {
        let file = self.file(id)?;
        let starts = file.line_starts();
        let missing = || Error::LineTooLarge { given: index, max: starts.len() };
        let start = *starts.get(index).ok_or_else(missing)? as usize;
        let end = starts.get(index + 1).map_or(file.text().len(), |next| *next as usize);
        Ok(start..end)
    }
}
