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

/// The names of the faults that this stage tells, each with its meaning.
pub const FAULTS: &[(&str, &str)] = &[
    ("hidden-character", "a character that does not show, or turns the direction of the text"),
    ("line-too-long", "a line of more than 4,096 bytes"),
    ("unclosed-text", "a text whose closing quote is missing"),
    ("unclosed-block", "a block whose closing brace is missing"),
    ("unopened-block", "a header whose opening brace is missing"),
    ("half-merged", "a file in which two versions stand unmerged"),
    ("foreign-letter", "a letter, a sign or a space that only looks like one of the language"),
    ("stray-brace", "a brace where no block begins or ends"),
    ("block-too-deep", "a block deeper than declaration, step and inner block"),
    ("unknown-sign", "a sign that no statement has"),
    ("unreadable-text", "a text that the grammar could not get through"),
    ("too-many-findings", "so many findings that the rest was not looked at"),
];

/// So many findings of one file are told; past that there is no use in more.
pub const FINDINGS_MAX: usize = 10_000;

/// What is told where looking further was given up, so that nobody takes what was told for all.
#[must_use]
pub fn too_many_findings(span: Span) -> Diagnostic {
    Diagnostic::error(
        "too-many-findings",
        span,
        "what follows was not looked at: over 10,000 findings are told",
    )
    .help("mend these, then check again")
}

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
