//! Rewrites each line in the standard layout, or leaves it unchanged if it could not be read, and joins the lines.

use super::Script;
use super::statement::{Place, write};
use crate::source::{Map, Span};
use crate::syntax::{Line, Statement, TokenKind};
use crate::vocabulary::{Block, Reading, say};

const INDENT: usize = 4;

/// One line of the new text, without its ending.
pub(super) struct TidyLine {
    pub(super) form: Form,
    depth: usize,
    pub(super) text: String,
    /// The span of the statement in the old text, if the statement could not be read, but the blocks around it could.
    pub(super) left_alone: Option<Span>,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Form {
    Blank,
    Comment,
    Version,
    Statement,
    Header,
    Close,
    Kept,
}

pub(super) fn lines(script: &Script<'_>) -> Vec<TidyLine> {
    let mut statements = vec![None; script.tree.lines.len()];
    by_line(&script.tree.statements, &mut statements);
    let mut readings = Map::new();
    by_place(&script.readings, Block::File, &mut readings);
    let mut walk = Walk { script, readings, open: Vec::new() };
    let lines = script.tree.lines.iter().zip(statements);
    lines.map(|(line, statement)| walk.line(line, statement)).collect()
}

fn by_line<'a>(statements: &'a [Statement], found: &mut [Option<&'a Statement>]) {
    for statement in statements {
        if let Some(line) = found.get_mut(statement.line) {
            *line = Some(statement);
        }
        by_line(statement.block.as_deref().unwrap_or(&[]), found);
    }
}

fn by_place<'a>(readings: &'a [Reading], block: Block, found: &mut Map<u32, (&'a Reading, Block)>) {
    for reading in readings {
        found.insert(reading.span.start, (reading, block));
        if let Some(inner) = reading.row.opens {
            by_place(&reading.rows, inner, found);
        }
    }
}

struct Walk<'a> {
    script: &'a Script<'a>,
    /// The statements that were read, each with the block that contains it. The keys are the bytes at which they start.
    readings: Map<u32, (&'a Reading, Block)>,
    /// For each block around the current line, the outermost first, whether the lines in the block were read.
    open: Vec<bool>,
}

impl Walk<'_> {
    fn line(&mut self, line: &Line, statement: Option<&Statement>) -> TidyLine {
        let tokens = self.script.tree.tokens_in(&line.tokens);
        let closes = tokens.first().is_some_and(|first| first.kind == TokenKind::Close);
        let is_read = self.open.iter().all(|is_read| *is_read);
        if closes {
            self.open.pop();
        }
        let depth = self.open.len();
        let kept = |left_alone| TidyLine { form: Form::Kept, depth, text: self.old(line), left_alone };
        let Some(statement) = statement else {
            return if is_read { self.between(line, closes) } else { kept(None) };
        };
        let found = self.readings.get(&statement.span.start).copied();
        let tidied = found
            .filter(|(reading, _)| is_read && reading.sound)
            .map(|(reading, block)| self.statement(line, statement, reading, block))
            .filter(|tidied| tidied.text.len() + 2 <= Line::BYTES_MAX as usize);
        let laid = tidied.unwrap_or_else(|| kept(is_read.then_some(statement.span)));
        if statement.block.is_some() {
            self.open.push(found.is_some_and(|(reading, _)| reading.row.opens.is_some()));
        }
        laid
    }

    fn statement(&self, line: &Line, statement: &Statement, reading: &Reading, block: Block) -> TidyLine {
        let place =
            Place { text: self.script.text, pieces: self.script.tree.tokens_in(&statement.tokens), block };
        let mut words = String::with_capacity(line.bytes.len());
        write(&place, reading, &mut words);
        let form = match statement.block {
            Some(_) => Form::Header,
            None if reading.is::<say::Wetside>() => Form::Version,
            None => Form::Statement,
        };
        if form == Form::Header {
            words.push_str(" {");
        }
        self.laid(line, form, &words)
    }

    /// A line without a statement: a brace, a comment, or nothing.
    fn between(&self, line: &Line, closes: bool) -> TidyLine {
        match (closes, line.comment) {
            (true, _) => self.laid(line, Form::Close, "}"),
            (false, Some(_)) => self.laid(line, Form::Comment, ""),
            (false, None) => self.laid(line, Form::Blank, ""),
        }
    }

    /// The line with its indentation, these words, and its comment after two spaces.
    fn laid(&self, line: &Line, form: Form, words: &str) -> TidyLine {
        let depth = self.open.len();
        let wide = if form == Form::Blank { 0 } else { depth * INDENT };
        let comment = line.comment.map_or("", |comment| comment.slice(self.script.text).trim_end());
        let gap = if words.is_empty() || comment.is_empty() { "" } else { "  " };
        TidyLine { form, depth, text: format!("{:wide$}{words}{gap}{comment}", ""), left_alone: None }
    }

    fn old(&self, line: &Line) -> String {
        let range = line.bytes.start as usize..line.bytes.end as usize;
        self.script.text.get(range).and_then(|text| text.lines().next()).unwrap_or("").to_owned()
    }
}

/// The line ending of most lines of a text: `\r\n` or `\n`.
pub fn ending(text: &str) -> &'static str {
    let all = text.matches('\n').count();
    if text.matches("\r\n").count() * 2 > all { "\r\n" } else { "\n" }
}

/// The lines as one text. Blank lines are dropped at the start and end of the text, after a header and before a closing
/// brace; elsewhere, several blank lines become one.
pub(super) fn laid(lines: &[TidyLine], ending: &str) -> String {
    let mut text = String::with_capacity(lines.iter().map(|line| line.text.len() + 2).sum());
    let mut above: Option<&TidyLine> = None;
    let mut had_blank = false;
    for (number, line) in lines.iter().enumerate() {
        if line.form == Form::Blank {
            had_blank = true;
            continue;
        }
        if above.is_some_and(|above| is_parted(above, line, had_blank, lines.iter().skip(number))) {
            text.push_str(ending);
        }
        text.push_str(&line.text);
        text.push_str(ending);
        (above, had_blank) = (Some(line), false);
    }
    text
}

/// Whether to write a blank line between a line and the line above; `had_blank` tells whether the old text had a blank
/// line there.
fn is_parted<'a>(
    above: &TidyLine,
    line: &TidyLine,
    had_blank: bool,
    mut from_line: impl Iterator<Item = &'a TidyLine>,
) -> bool {
    if above.form == Form::Header || line.form == Form::Close {
        return false;
    }
    if line.depth > 0 || above.form == Form::Comment {
        return had_blank;
    }
    // A blank line goes before a top-level header or, if comments are directly above the header, before these comments.
    let declares =
        from_line.find(|line| line.form != Form::Comment).is_some_and(|line| line.form == Form::Header);
    had_blank || declares || matches!(above.form, Form::Close | Form::Version)
}
