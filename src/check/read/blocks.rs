//! Reads the statements of blocks: each finds its row by its first word, and may occur as often as the row says.

use std::borrow::Cow;

use super::cursor::Cursor;
use super::mismatch::{example, name_of};
use super::pattern::Reader;
use crate::source::{Diagnostic, Span, clip};
use crate::syntax::{FINDINGS_MAX, Line, Statement, Token, TokenKind, Tree, too_many_findings};
use crate::vocabulary::{Block, Often, Reading, Row, blocks_of, offer_near, row_of, rows_of, say, suggest};

/// The statements of a file, and whether every one at its top level was understood. `faults` has the parser's
/// errors.
pub(crate) fn read_file(tree: &Tree, text: &str, faults: &mut Vec<Diagnostic>) -> (Vec<Reading>, bool) {
    let mut file = FileReader { tree, text, faults };
    let (rows, sound) = file.block(Block::File, &tree.statements);
    let start = Span { file: tree.file, start: 0, end: 0 };
    file.version(&rows, start);
    if faults.len() >= FINDINGS_MAX {
        let last = faults.last().map_or(start, |fault| fault.span);
        faults.push(too_many_findings(last));
    }
    (rows, sound && !tree.half_merged)
}

/// The most lines of a block, as a number and in words.
fn most_lines(block: Block) -> (usize, &'static str) {
    match block {
        Block::File => (usize::MAX, ""),
        Block::Backlog => (10_000, "10,000"),
        _ => (1_000, "1,000"),
    }
}

/// The one version of the language.
const VERSION: u32 = 1;

struct FileReader<'a> {
    tree: &'a Tree,
    text: &'a str,
    faults: &'a mut Vec<Diagnostic>,
}

impl<'a> FileReader<'a> {
    /// The readings of a block, and whether every line was understood.
    fn block(&mut self, block: Block, statements: &'a [Statement]) -> (Vec<Reading>, bool) {
        let mut readings: Vec<Reading> = Vec::with_capacity(statements.len());
        let mut all_sound = true;
        let (most, words) = most_lines(block);
        if let Some(beyond) = statements.get(most) {
            all_sound = false;
            let message = format!("{} has at most {words} lines", block.words());
            let fault = Diagnostic::error("block-too-long", beyond.span, message);
            self.faults.push(fault.help("split the block"));
        }
        for statement in statements.iter().take(most) {
            if self.faults.len() >= FINDINGS_MAX {
                return (readings, false);
            }
            match self.row_of(block, statement) {
                Some(row) => {
                    let reading = self.statement(row, statement);
                    all_sound &= reading.sound;
                    readings.push(reading);
                }
                None => all_sound = false,
            }
        }
        self.repeats(&readings);
        (readings, all_sound)
    }

    fn words(&self, token: Token) -> &'a str {
        self.text.get(token.span.range()).unwrap_or("")
    }

    fn row_of(&mut self, block: Block, statement: &Statement) -> Option<&'static Row> {
        let first = self.tree.pieces(statement).first().copied()?;
        let word = if first.kind == TokenKind::Word { self.words(first) } else { "" };
        if let Some(row) = row_of(block, word) {
            return Some(row);
        }
        let free = row_of(block, "");
        if free.is_some_and(|_| block == Block::Formula || first.kind != TokenKind::Word) {
            return free;
        }
        let fault = self.unknown(block, first, word);
        self.faults.extend(fault);
        None
    }

    /// The error of a line that begins no row of this block; none if its first piece is reported already.
    fn unknown(&self, block: Block, first: Token, word: &str) -> Option<Diagnostic> {
        if first.reported {
            return None;
        }
        let here: Vec<&str> = rows_of(block).map(|row| row.word).filter(|word| !word.is_empty()).collect();
        if word.is_empty() {
            let message = format!("a statement of {} begins with a word", block.words());
            let fault = Diagnostic::error("not-a-statement", first.span, message);
            let number = first.kind == TokenKind::Number && matches!(block, Block::Step(_));
            return Some(if number {
                fault.help("put the points of a chart into a block: chart {, one line for each, then }")
            } else {
                fault.help(format!("begin with one of {}", here.join(", ")))
            });
        }
        if let Some(places) = places_of(word) {
            let message = format!("'{}' does not belong in {}", clip(word), block.words());
            let fault = Diagnostic::error("misplaced-statement", first.span, message);
            return Some(fault.help(format!("move it into {places}, or remove it")));
        }
        let message = format!("{} has no '{}'", block.words(), clip(word));
        let fault = Diagnostic::error("unknown-word", first.span, message);
        Some(offer_near(fault, word, &here, || format!("write one of {}", here.join(", "))))
    }

    fn statement(&mut self, row: &'static Row, statement: &'a Statement) -> Reading {
        let tokens = self.tree.pieces(statement);
        let too_long = self.tree.lines.get(statement.line).is_some_and(Line::is_too_long);
        let told = too_long || tokens.iter().any(|token| token.reported);
        let tokens = if too_long { &[] } else { tokens };
        let cursor =
            Cursor { text: self.text, tokens, at: usize::from(!row.word.is_empty()), file: self.tree.file };
        let before = self.faults.len();
        let mut reader = Reader { cursor, row, items: Vec::new(), faults: self.faults, following: None };
        let read = reader.statement().is_ok();
        let items = reader.items;
        if told {
            self.faults.truncate(before);
        }
        let mut sound = read && !told;
        let (rows, block_sound) = match (&statement.block, row.opens) {
            (Some(inner), Some(block)) => self.block(block, inner),
            (None, None) => (Vec::new(), true),
            (Some(_), None) => {
                if !self.is_headless(statement) && sound {
                    let message = format!("{} has no block", name_of(row));
                    self.faults.push(
                        Diagnostic::error("needless-block", statement.span, message)
                            .help(format!("remove the braces; write it as in: {}", example(row))),
                    );
                }
                sound = false;
                (Vec::new(), true)
            }
            (None, Some(_)) => {
                sound = false;
                if !told {
                    let message = format!("'{}' needs a block", row.word);
                    self.faults.push(
                        Diagnostic::error("missing-block", statement.span.after(), message)
                            .help("end the line with {, then write one statement a line, then } alone"),
                    );
                }
                (Vec::new(), true)
            }
        };
        if let Some(block) = row.opens.filter(|_| statement.block.is_some() && block_sound) {
            self.missing(block, &rows, statement.span);
        }
        Reading { row, items, span: statement.span, extent: statement.extent, rows, sound, block_sound }
    }

    /// Whether the parser took a statement for the header of deeper lines that have none; if so, its error says
    /// that instead of a missing brace.
    fn is_headless(&mut self, statement: &Statement) -> bool {
        let after = statement.span.after();
        let taken = |fault: &&mut Diagnostic| (fault.name, fault.span) == ("unopened-block", after);
        let Some(fault) = self.faults.iter_mut().find(taken) else { return false };
        "the lines below are indented and have no header".clone_into(&mut fault.message);
        fault.help = vec!["write their header above them, such as: develop {".to_owned()];
        fault.fixes.clear();
        true
    }

    fn repeats(&mut self, readings: &[Reading]) {
        let mut seen: Vec<&Reading> = Vec::new();
        // A statement that may be repeated is not one with itself.
        for reading in readings.iter().filter(|reading| reading.is_one_with(reading)) {
            match seen.iter().find(|earlier| earlier.is_one_with(reading)) {
                None => seen.push(reading),
                Some(earlier) => {
                    let message = format!("'{}' occurs twice", reading.row.word);
                    self.faults.push(
                        Diagnostic::error("repeated-statement", reading.span, message)
                            .other(earlier.span, "the first")
                            .help("keep the right one and remove the other"),
                    );
                }
            }
        }
    }

    fn missing(&mut self, block: Block, readings: &[Reading], span: Span) {
        for row in rows_of(block).filter(|row| matches!(row.often, Often::Must | Often::Some)) {
            if readings.iter().any(|reading| std::ptr::eq(reading.row, row)) {
                continue;
            }
            let what = if row.word.is_empty() { "a line".to_owned() } else { format!("'{}'", row.word) };
            let message = format!("{} needs {what}", block.words());
            let fault = Diagnostic::error("missing-statement", span, message);
            self.faults.push(fault.help(format!("add a line such as: {}", example(row))));
        }
    }

    fn version(&mut self, readings: &[Reading], start: Span) {
        let said = readings.iter().position(|reading| reading.is::<say::Wetside>());
        let meant = self.tree.statements.first().and_then(|first| self.tree.pieces(first).first());
        let misspelt =
            meant.is_some_and(|word| word.reported || suggest(self.words(*word), ["wetside"]).is_some());
        if self.tree.half_merged || (said.is_none() && misspelt) {
            return;
        }
        let fault = match said.and_then(|at| readings.get(at).map(|reading| (at, reading))) {
            None => Diagnostic::error("version", start, "a file begins with the version of the language")
                .change(start, "wetside 1\n\n", "put 'wetside 1' in its first line", true),
            Some((at, reading)) if at > 0 => {
                Diagnostic::error("version", reading.span, "the version is the first statement of a file")
                    .help("move this line to the top")
            }
            Some((_, reading)) if reading.sound && version(reading) != Some(VERSION) => {
                Diagnostic::error("version", reading.span, "this program reads version 1 of the language")
                    .help("write 'wetside 1', or use a program that knows this version")
                    .choice(reading.span, "wetside 1")
            }
            Some(_) => return,
        };
        self.faults.push(fault);
    }
}

fn version(reading: &Reading) -> Option<u32> {
    reading.view::<say::Wetside>()?.get(say::Wetside::version)
}

/// The blocks in which a word belongs, in words; `None` if it is not a word of the language.
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
