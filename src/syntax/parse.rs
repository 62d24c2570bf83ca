//! Reads a text with the grammar into lines and pieces, and has them looked at and hung into blocks.
//! A line at fault costs that line, never the file.

use pest::{Parser, Token as Mark};

use super::grammar::{Grammar, Rule};
use super::hang::hang;
use super::phrase::token_kind;
use super::signs;
use super::token::Token;
use super::tree::{Line, Tree};
use crate::source::{Diagnostic, FileId, SourceFile, Sources, Span};

/// The tree of a file, and what no line of it may hold, in the order of the text.
#[must_use]
pub fn parse(sources: &Sources, file: FileId) -> (Tree, Vec<Diagnostic>) {
    let text = sources.text(file);
    let line_starts = sources.get(file).map_or(&[][..], SourceFile::line_starts);
    // A piece has some six bytes; what is made room for at once need not grow.
    let (tokens, lines) = (Vec::with_capacity(text.len() / 6), Vec::with_capacity(line_starts.len()));
    let mut tree = Tree { file, tokens, lines, statements: Vec::new(), half_merged: false };
    let mut faults = Vec::new();
    match Grammar::parse(Rule::file, text) {
        Ok(pairs) => read_lines(&mut tree, pairs.tokens(), line_starts),
        Err(_) => faults.push(unreadable(file, text)),
    }
    if let Some(fault) = merge_marks(&tree, text) {
        tree.half_merged = true;
        faults.push(fault);
        return (tree, faults);
    }
    signs::tell(&mut tree, text, &mut faults);
    tree.statements = hang(&tree, text, &mut faults);
    (tree, faults)
}

/// Fills the pieces from pest's marks, of which one stands where each rule begins and one where it ends;
/// and lays pieces and remarks into the lines, given where each of these begins.
fn read_lines<'i>(tree: &mut Tree, marks: impl Iterator<Item = Mark<'i, Rule>>, line_starts: &[u32]) {
    let place = |byte: usize| u32::try_from(byte).unwrap_or(u32::MAX);
    let (mut start, mut form, mut end) = (0, None, 0);
    let mut comments = Vec::new();
    for mark in marks {
        match mark {
            Mark::Start { rule, .. } if rule.goes_on() => form = Some(rule),
            Mark::Start { pos, .. } => (start, form) = (place(pos.pos()), None),
            Mark::End { rule, pos } => {
                end = place(pos.pos());
                let span = Span { file: tree.file, start, end };
                match token_kind(rule, form) {
                    Some(kind) => tree.tokens.push(Token { kind, span, told: false }),
                    None if rule == Rule::comment => comments.push(span),
                    None => {}
                }
            }
        }
    }
    let mut comments = comments.into_iter().peekable();
    let mut first = 0;
    let ends = line_starts.iter().skip(1).copied().chain([end]);
    for (start, end) in line_starts.iter().copied().zip(ends) {
        let pieces = tree.tokens.iter().skip(first).take_while(|piece| piece.span.start < end).count();
        let comment = comments.next_if(|comment| comment.start < end);
        tree.lines.push(Line { bytes: start..end, tokens: first..first + pieces, comment });
        first += pieces;
    }
}

fn unreadable(file: FileId, text: &str) -> Diagnostic {
    let end = u32::try_from(text.len()).unwrap_or(u32::MAX);
    Diagnostic::error("unreadable-text", Span { file, start: 0, end }, "this text could not be read through")
        .help("split it into smaller files, each under 1 MiB")
}

/// A file that a merge left in two versions: told once, and nothing else of it.
fn merge_marks(tree: &Tree, text: &str) -> Option<Diagnostic> {
    let mark = |line: &&Line| {
        let words = text.get(line.bytes.start as usize..line.bytes.end as usize).unwrap_or("");
        ["<<<<<<<", "=======", ">>>>>>>", "|||||||"].iter().any(|mark| words.starts_with(mark))
    };
    let place = |line: &Line| Span { file: tree.file, start: line.bytes.start, end: line.bytes.start + 7 };
    let mut marks = tree.lines.iter().filter(mark).map(place);
    let first = marks.next()?;
    let fault = Diagnostic::error("half-merged", first, "two versions of this file stand here unmerged")
        .help("keep the lines that hold, and take these marks and the others out");
    Some(marks.take(5).fold(fault, |fault, mark| fault.other(mark, "")))
}
