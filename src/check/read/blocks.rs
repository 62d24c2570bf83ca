//! Reads the statements of a file block by block. The first word of a line selects the line's row in the vocabulary
//! table.

use std::borrow::Cow;

use super::cursor::Cursor;
use super::edition;
use super::error;
use super::mismatch::{example, name_of};
use super::pattern::Reader;
use crate::source::{Diagnostic, Span, clip};
use crate::syntax::{FINDINGS_MAX, Line, Statement, Token, TokenKind, Tree, too_many_findings};
use crate::vocabulary::{
    Block, EDITION, Often, Reading, Row, Statement as _, Value, blocks_of, offer_near, row_of, rows_of, say,
};

/// The statements of a file. The flag is true if every line outside of blocks was understood. `faults` already has the
/// errors of the parser.
pub(crate) fn read_file(tree: &Tree, text: &str, faults: &mut Vec<Diagnostic>) -> (Vec<Reading>, bool) {
    let (edition, place) = edition::stated(tree, text);
    if edition > EDITION && !tree.half_merged {
        faults.clear();
        faults.push(edition::later(edition, place));
        return (Vec::new(), false);
    }
    let mut file = FileReader { tree, text, edition, faults, words: edition::Words::default() };
    let (rows, sound, _) = file.block(Block::File, &tree.statements);
    file.check_edition(&rows);
    if faults.len() >= FINDINGS_MAX {
        let start = Span { file: tree.file, start: 0, end: 0 };
        let last = faults.last().map_or(start, |fault| fault.span);
        faults.push(too_many_findings(last));
    }
    (rows, sound && !tree.half_merged)
}

/// The names of errors that are joined into one if successive lines have the same mistake.
const MISTAKES: [&str; 2] = ["not-a-statement", "wrong-kind"];
/// The most lines that a joined error marks, besides the first line.
const JOINED_MAX: usize = 8;

pub(super) struct FileReader<'a> {
    pub(super) tree: &'a Tree,
    pub(super) text: &'a str,
    edition: u32,
    pub(super) faults: &'a mut Vec<Diagnostic>,
    pub(super) words: edition::Words,
}

impl<'a> FileReader<'a> {
    /// The statements of a block. The first flag is true if every line was read without an error, the second if every
    /// line begins with the first word of a statement.
    fn block(&mut self, block: Block, statements: &'a [Statement]) -> (Vec<Reading>, bool, bool) {
        let mut readings: Vec<Reading> = Vec::with_capacity(statements.len());
        let (mut all_sound, mut all_known) = (true, true);
        let (most, words) = match block {
            Block::File => (usize::MAX, ""),
            Block::Backlog => (10_000, "10,000"),
            _ => (1_000, "1,000"),
        };
        if let Some(beyond) = statements.get(most) {
            (all_sound, all_known) = (false, false);
            self.error(
                "block-too-long",
                beyond.span,
                format!("{} has at most {words} lines", block.words()),
                "split the block",
            );
        }
        let mut repeated = None;
        for statement in statements.iter().take(most) {
            if self.faults.len() >= FINDINGS_MAX {
                return (readings, false, false);
            }
            let before = self.faults.len();
            match self.row_of((block, statements), statement) {
                Some(row) => {
                    let reading = self.statement(row, statement);
                    all_sound &= reading.sound;
                    readings.push(reading);
                }
                None => (all_sound, all_known) = (false, false),
            }
            repeated = self.join_repeated(repeated, before);
        }
        self.repeats(readings.iter());
        (readings, all_sound, all_known)
    }

    /// Joins the error of a line to that of the lines before it, if they have the same mistake, such as chart points
    /// without a `chart` block. `earlier` is the index of their error, and `before` is the number of errors before this
    /// line. Returns the index of the error to which the error of the next line can be joined; `None` if there is none.
    fn join_repeated(&mut self, earlier: Option<usize>, before: usize) -> Option<usize> {
        let [own] = self.faults.get(before..)? else { return None };
        let is_joined = MISTAKES.contains(&own.name) && own.fixes.is_empty();
        let first = earlier.and_then(|at| self.faults.get(at)).filter(|first| {
            is_joined && (first.name, &first.message, &first.help) == (own.name, &own.message, &own.help)
        });
        if first.is_none() {
            return is_joined.then_some(before);
        }
        let span = own.span;
        self.faults.truncate(before);
        let first = self.faults.get_mut(earlier?)?;
        if first.others.len() < JOINED_MAX {
            first.others.push((span, "here, too".to_owned()));
        }
        earlier
    }

    fn error(&mut self, name: &'static str, span: Span, message: String, help: impl Into<String>) {
        self.faults.push(error(name, span, message, help));
    }

    /// Whether one of these statements begins with the word `chart`.
    fn has_chart(&self, statements: &[Statement]) -> bool {
        let first = |statement: &Statement| self.tree.tokens_in(&statement.tokens).first().copied();
        statements.iter().filter_map(first).any(|first| first.span.slice(self.text) == "chart")
    }

    fn row_of(
        &mut self,
        (block, beside): (Block, &[Statement]),
        statement: &Statement,
    ) -> Option<&'static Row> {
        let first = self.tree.tokens_in(&statement.tokens).first().copied()?;
        let is_word = first.kind == TokenKind::Word;
        let word = if is_word { first.span.slice(self.text) } else { "" };
        let row = row_of(block, word).or_else(|| row_of(block, "").filter(|_| block == Block::Formula));
        // The parser has already reported an error in this token.
        if row.is_none() && !first.reported {
            let fault = if first.kind == TokenKind::Number
                && matches!(block, Block::Step(_))
                && self.has_chart(beside)
            {
                error(
                    "not-a-statement",
                    first.span,
                    "this line is outside of the chart of its step",
                    "if it is a point of the chart, move it between the { and the } of the chart",
                )
            } else {
                unknown(block, first, word)
            };
            self.faults.push(fault);
        }
        row
    }

    fn statement(&mut self, row: &'static Row, statement: &'a Statement) -> Reading {
        let tokens = self.tree.tokens_in(&statement.tokens);
        let too_long = self.tree.lines.get(statement.line).is_some_and(Line::is_too_long);
        let reported = too_long || tokens.iter().any(|token| token.reported);
        let tokens = if too_long { &[] } else { tokens };
        let cursor =
            Cursor { text: self.text, tokens, at: usize::from(!row.word.is_empty()), file: self.tree.file };
        let before = self.faults.len();
        let mut reader = Reader { edition: self.edition, ..Reader::new(cursor, row, self.faults) };
        let read = reader.statement().is_some();
        // A word that only edition 2 has is not reported in a statement with another error: one error is enough.
        let newer = if row.since > 1 {
            tokens.first().map(|first| first.span)
        } else {
            reader.newer.filter(|_| read)
        };
        let Reader { items, reserved, .. } = reader;
        self.words.newer.extend(newer);
        self.words.older.extend(items.iter().filter_map(edition::older));
        self.words.reserved.extend(reserved);
        if reported {
            self.faults.truncate(before);
        }
        let clauses = items.iter().filter_map(|item| match &item.value {
            Value::Clause(clause) => Some(&**clause),
            _ => None,
        });
        let mut sound = read && !reported && self.repeats(clauses);
        let (mut rows, mut block_sound, mut block_known) = (Vec::new(), true, true);
        match (&statement.block, row.opens) {
            (Some(inner), Some(block)) => {
                (rows, block_sound, block_known) = self.block(block, inner);
                if block_sound {
                    self.missing(block, &rows, statement.span);
                }
            }
            (None, None) => {}
            (Some(_), None) => {
                self.needless_block(row, statement, (before, sound));
                sound = false;
            }
            (None, Some(_)) => {
                if !reported {
                    self.error(
                        "missing-block",
                        statement.span.after(),
                        format!("'{}' needs a block", row.word),
                        "end the line with {, then write one statement a line, then } alone",
                    );
                }
                sound = false;
            }
        }
        let (span, extent) = (statement.span, statement.extent);
        Reading { row, items, span, extent, rows, sound, block_sound, block_known }
    }

    /// Reports the block of a statement that cannot have one. If the statement also lacks a value, that error gets the
    /// help text, and no second error is added. `before` is the number of errors before this statement.
    fn needless_block(&mut self, row: &'static Row, statement: &Statement, (before, sound): (usize, bool)) {
        if self.is_headless(statement) {
            return;
        }
        let help = format!("remove the braces; write it as in: {}", example(row));
        let is_deep =
            |fault: &&mut Diagnostic| (fault.name, fault.span) == ("block-too-deep", statement.span);
        if let Some(fault) = self.faults.iter_mut().find(is_deep) {
            fault.help = vec![help];
            return self.faults.truncate(before);
        }
        let new = self.faults.get_mut(before..).and_then(|new| new.last_mut());
        if let Some(fault) = new.filter(|fault| fault.name == "missing-value") {
            fault.help = vec![help];
        } else if sound {
            self.error(
                "needless-block",
                statement.span,
                format!("{} cannot have a block", name_of(row)),
                help,
            );
        }
    }

    /// Whether the parser took this line for a header without `{`, because the lines below it are indented. If so,
    /// changes that error: the lines below lack a header.
    fn is_headless(&mut self, statement: &Statement) -> bool {
        let after = statement.span.after();
        let taken = |fault: &&mut Diagnostic| (fault.name, fault.span) == ("unopened-block", after);
        let Some(fault) = self.faults.iter_mut().find(taken) else { return false };
        "the lines below are indented, but no { is before them".clone_into(&mut fault.message);
        fault.help = vec!["name above them what they belong to, such as: develop {".to_owned()];
        fault.fixes.clear();
        true
    }

    fn repeats<'r>(&mut self, readings: impl Iterator<Item = &'r Reading>) -> bool {
        let before = self.faults.len();
        let mut seen: Vec<&Reading> = Vec::new();
        // A statement that may be repeated is skipped: for it, `reading.is_one_with(reading)` is false.
        for reading in readings.filter(|reading| reading.is_one_with(reading)) {
            match seen.iter().find(|earlier| earlier.is_one_with(reading)) {
                None => seen.push(reading),
                Some(earlier) => {
                    let is_one_line = !earlier.span.to(reading.span).slice(self.text).contains('\n');
                    let help = match is_one_line {
                        true => "keep one of the two and remove the other",
                        false => "keep one of the two lines and remove the other",
                    };
                    let message = format!("'{}' occurs twice", reading.row.word);
                    let fault = error("repeated-statement", reading.span, message, help);
                    self.faults.push(fault.other(earlier.span, "the first"));
                }
            }
        }
        self.faults.len() == before
    }

    fn missing(&mut self, block: Block, readings: &[Reading], span: Span) {
        for row in rows_of(block).filter(|row| matches!(row.often, Often::Must | Often::Some)) {
            let is_here = |reading: &Reading| std::ptr::eq(reading.row, row) || replaces(reading.row, row);
            if readings.iter().any(is_here) {
                continue;
            }
            let what =
                if row.word.is_empty() { "at least one line".to_owned() } else { format!("'{}'", row.word) };
            self.error(
                "missing-statement",
                span,
                format!("{} needs {what}", block.words()),
                format!("add a line such as: {}", example(row)),
            );
        }
    }
}

/// Whether the statement `row` may stand in place of the required statement `needed`: in a session, `planned` replaces
/// `date`.
fn replaces(row: &'static Row, needed: &'static Row) -> bool {
    say::Planned::has(row) && say::On::has(needed)
}

fn unknown(block: Block, first: Token, word: &str) -> Diagnostic {
    let here: Vec<&str> = rows_of(block).map(|row| row.word).filter(|word| !word.is_empty()).collect();
    let (words, clipped) = (block.words(), clip(word));
    if word.is_empty() {
        let number = first.kind == TokenKind::Number && matches!(block, Block::Step(_));
        let help = if number {
            "put the points of a chart into a block: a line 'chart {', a line for each point, and a line with } alone".to_owned()
        } else {
            format!("begin with one of {}", here.join(", "))
        };
        return error(
            "not-a-statement",
            first.span,
            format!("a statement of {words} begins with a word"),
            help,
        );
    }
    if let Some(places) = places_of(word) {
        let message = match block {
            Block::File => format!("'{clipped}' does not belong outside of a block"),
            _ => format!("'{clipped}' does not belong in {words}"),
        };
        let help = match blocks_of(word).as_slice() {
            _ if word == "chart" && row_of(block, "time").is_some() => {
                "a chart is for a step that works in a solution: write one time in its place, such as: time 10:00"
                    .to_owned()
            }
            [Block::File] if block.declares().is_some() => {
                format!(
                    "move it below the }} that ends the {}, or remove it",
                    words.split(' ').next_back().unwrap_or("")
                )
            }
            [Block::File] => "move it below the last } of this declaration, or remove it".to_owned(),
            _ => format!("move it into {places}, or remove it"),
        };
        return error("misplaced-statement", first.span, message, help);
    }
    let fault =
        Diagnostic::error("unknown-word", first.span, format!("'{clipped}' is not a statement of {words}"));
    offer_near(fault, word, &here, || format!("write one of {}", here.join(", ")))
}

/// The blocks that may have a statement with this first word, as a text for messages; `None` if no block may have it.
fn places_of(word: &str) -> Option<String> {
    let blocks = blocks_of(word);
    let steps = blocks.iter().filter(|block| matches!(block, Block::Step(_))).count();
    let mut words: Vec<Cow<'static, str>> = blocks
        .iter()
        .filter(|block| steps <= 3 || !matches!(block, Block::Step(_)))
        .map(|block| block.words())
        .collect();
    match steps {
        0..=3 => {}
        4..=8 => words.push("a step that works in a solution".into()),
        _ => words.push("a step".into()),
    }
    (!words.is_empty()).then(|| words.join(" or "))
}
