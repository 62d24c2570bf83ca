//! Each line in the standard layout, or unchanged if it could not be read.

use super::Script;
use super::statement::{Place, write};
use crate::source::Span;
use crate::syntax::{Line, Statement, TokenKind};
use crate::vocabulary::{Block, Reading, say};

/// Spaces a level.
const INDENT: usize = 4;

/// One line of the new text, without its ending.
pub(super) struct TidyLine {
    pub(super) form: Form,
    /// The number of blocks around it.
    pub(super) depth: usize,
    pub(super) text: String,
    /// Its span in the old text, if it could not be read and no block around it says so.
    pub(super) left_alone: Option<Span>,
}

/// What a line holds.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Form {
    Blank,
    Remark,
    /// The version of the language.
    Version,
    Statement,
    Header,
    Close,
    /// Unchanged.
    Kept,
}

/// All lines, in order.
pub(super) fn lines(script: &Script<'_>) -> Vec<TidyLine> {
    let mut statements = vec![None; script.tree.lines.len()];
    by_line(&script.tree.statements, &mut statements);
    let mut readings = Vec::new();
    by_place(&script.readings, Block::File, &mut readings);
    readings.sort_unstable_by_key(|(reading, _)| reading.span.start);
    let mut walk = Walk { script, readings, open: Vec::new() };
    let lines = script.tree.lines.iter().zip(statements);
    lines.map(|(line, statement)| walk.line(line, statement)).collect()
}

/// Puts each statement at its line's index.
fn by_line<'a>(statements: &'a [Statement], found: &mut [Option<&'a Statement>]) {
    for statement in statements {
        if let Some(line) = found.get_mut(statement.line) {
            *line = Some(statement);
        }
        by_line(statement.block.as_deref().unwrap_or(&[]), found);
    }
}

fn by_place<'a>(readings: &'a [Reading], block: Block, found: &mut Vec<(&'a Reading, Block)>) {
    for reading in readings {
        found.push((reading, block));
        if let Some(inner) = reading.row.opens {
            by_place(&reading.rows, inner, found);
        }
    }
}

/// The state of a pass over the lines.
struct Walk<'a> {
    script: &'a Script<'a>,
    /// Each reading with its block, in order.
    readings: Vec<(&'a Reading, Block)>,
    /// For each open block, whether its lines were read.
    open: Vec<bool>,
}

impl Walk<'_> {
    fn line(&mut self, line: &Line, statement: Option<&Statement>) -> TidyLine {
        let tokens = self.script.tree.tokens.get(line.tokens.clone()).unwrap_or(&[]);
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
        let at = self.readings.binary_search_by_key(&statement.span.start, |(reading, _)| reading.span.start);
        let found = at.ok().and_then(|at| self.readings.get(at)).copied();
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
        let depth = self.open.len();
        let place = Place { text: self.script.text, pieces: self.script.tree.pieces(statement), block };
        let opens = statement.block.is_some();
        let mut text = String::with_capacity(line.bytes.len());
        indent(depth, &mut text);
        write(&place, reading, &mut text);
        if opens {
            text.push_str(" {");
        }
        self.remark(line, &mut text);
        let form = match opens {
            true => Form::Header,
            false if reading.is::<say::Wetside>() => Form::Version,
            false => Form::Statement,
        };
        TidyLine { form, depth, text, left_alone: None }
    }

    /// A line without a statement: a brace, a comment, or nothing.
    fn between(&self, line: &Line, closes: bool) -> TidyLine {
        let depth = self.open.len();
        let form = match (closes, line.comment) {
            (true, _) => Form::Close,
            (false, Some(_)) => Form::Remark,
            (false, None) => Form::Blank,
        };
        let mut text = String::new();
        if form != Form::Blank {
            indent(depth, &mut text);
        }
        if closes {
            text.push('}');
        }
        self.remark(line, &mut text);
        TidyLine { form, depth, text, left_alone: None }
    }

    /// Appends the line's comment, two spaces after a statement.
    fn remark(&self, line: &Line, text: &mut String) {
        let Some(remark) = line.comment else { return };
        let words = self.script.text.get(remark.range()).unwrap_or("");
        if !text.trim().is_empty() {
            text.push_str("  ");
        }
        text.push_str(words.trim_end());
    }

    /// The old line without its ending.
    fn old(&self, line: &Line) -> String {
        let range = line.bytes.start as usize..line.bytes.end as usize;
        let text = self.script.text.get(range).unwrap_or("");
        let text = text.strip_suffix('\n').map_or(text, |text| text.strip_suffix('\r').unwrap_or(text));
        text.to_owned()
    }
}

fn indent(depth: usize, text: &mut String) {
    text.extend(std::iter::repeat_n(' ', depth * INDENT));
}
