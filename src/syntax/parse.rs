//! Reads a text with the grammar and hangs its statements into blocks. A line at fault costs that
//! line, never the file.

use pest::{Parser, Token as Mark};

use super::grammar::{Grammar, Rule};
use super::phrase::token_kind;
use super::token::{Token, TokenKind};
use super::tree::{Line, Statement, Tree};
use crate::source::{Diagnostic, FileId, Level, Sources, Span, is_hidden};

/// The names of the faults that this stage tells, each with its meaning.
pub const FAULTS: &[(&str, &str)] = &[
    ("hidden-character", "a character that does not show, or turns the direction of the text"),
    ("line-too-long", "a line of more than 4,096 bytes"),
    ("unclosed-text", "a text whose closing quote is missing"),
    ("unclosed-block", "a block whose closing brace is missing"),
    ("stray-brace", "a brace where no block begins or ends"),
    ("block-too-deep", "a block deeper than declaration, step and inner block"),
    ("unknown-sign", "a sign that no statement has"),
    ("unreadable-text", "a text that the grammar could not get through"),
];

/// So many findings of one file are told; past that there is no use in more.
pub const FINDINGS_MAX: usize = 10_000;
/// Declaration, step, inner block.
const DEPTH_MAX: usize = 3;

/// The tree of a file, and what no line of it may hold, in the order of the text.
#[must_use]
pub fn parse(sources: &Sources, file: FileId) -> (Tree, Vec<Diagnostic>) {
    let text = sources.text(file);
    let mut tree = Tree { file, tokens: Vec::new(), lines: Vec::new(), statements: Vec::new() };
    let mut faults = Vec::new();
    match Grammar::parse(Rule::file, text) {
        Ok(pairs) => read_lines(&mut tree, pairs.tokens(), text),
        Err(_) => faults.push(unreadable(file, text)),
    }
    tell_hidden(&tree, text, &mut faults);
    tell_lines(&tree, text, &mut faults);
    tree.statements = hang(&tree, &mut faults);
    (tree, faults)
}

/// Fills lines and pieces from pest's marks: a mark where each rule begins and one where it ends.
fn read_lines<'i>(tree: &mut Tree, marks: impl Iterator<Item = Mark<'i, Rule>>, text: &str) {
    let place = |byte: usize| u32::try_from(byte).unwrap_or(u32::MAX);
    let (mut line_start, mut first, mut start, mut form, mut comment) = (0, 0, 0, None, None);
    for mark in marks {
        match mark {
            Mark::Start { rule: Rule::line, .. } => (first, comment) = (tree.tokens.len(), None),
            Mark::Start { rule, .. } if rule.goes_on() => form = Some(rule),
            Mark::Start { pos, .. } => (start, form) = (place(pos.pos()), None),
            Mark::End { rule: Rule::line, pos } => {
                let rest = text.get(pos.pos()..).unwrap_or("");
                let ending = if rest.starts_with("\r\n") { 2 } else { usize::from(!rest.is_empty()) };
                let end = place(pos.pos() + ending);
                tree.lines.push(Line {
                    bytes: line_start..end,
                    tokens: first..tree.tokens.len(),
                    comment: comment.take(),
                });
                line_start = end;
            }
            Mark::End { rule, pos } => {
                let span = Span { file: tree.file, start, end: place(pos.pos()) };
                match token_kind(rule, form) {
                    Some(kind) => tree.tokens.push(Token { kind, span }),
                    None if rule == Rule::comment => comment = Some(span),
                    None => {}
                }
            }
        }
    }
}

fn unreadable(file: FileId, text: &str) -> Diagnostic {
    let end = u32::try_from(text.len()).unwrap_or(u32::MAX);
    Diagnostic::error("unreadable-text", Span { file, start: 0, end }, "this text could not be read through")
        .help("split it into smaller files, each under 1 MiB")
}

fn tell_hidden(tree: &Tree, text: &str, faults: &mut Vec<Diagnostic>) {
    let plain = |byte: u8| (0x20..0x7f).contains(&byte) || byte == b'\n' || byte == b'\t';
    if text.bytes().all(plain) {
        return;
    }
    for (at, letter) in text.char_indices().filter(|(_, letter)| is_hidden(*letter)) {
        if faults.len() >= FINDINGS_MAX {
            return;
        }
        let (Ok(start), Ok(end)) = (u32::try_from(at), u32::try_from(at + letter.len_utf8())) else { return };
        if letter == '\r' && text.get(at + 1..).is_some_and(|rest| rest.starts_with('\n')) {
            continue;
        }
        let line = tree.lines.partition_point(|line| line.bytes.end <= start);
        let remark = tree.lines.get(line).and_then(|line| line.comment);
        let in_remark = remark.is_some_and(|remark| remark.start <= start);
        let span = Span { file: tree.file, start, end };
        let code = u32::from(letter);
        let mut fault =
            Diagnostic::error("hidden-character", span, format!("the character U+{code:04X} does not show"))
                .offer("", "remove it: it could make the line read otherwise than it stands");
        if in_remark {
            fault.level = Level::Warning;
        }
        faults.push(fault);
    }
}

fn tell_lines(tree: &Tree, text: &str, faults: &mut Vec<Diagnostic>) {
    for line in &tree.lines {
        if line.is_too_long() {
            let span = Span { file: tree.file, start: line.bytes.start, end: line.bytes.start };
            faults.push(
                Diagnostic::error("line-too-long", span, "this line is longer than 4,096 bytes")
                    .help("break it up: one statement a line"),
            );
        }
    }
    for token in &tree.tokens {
        if faults.len() >= FINDINGS_MAX {
            return;
        }
        match token.kind {
            TokenKind::OpenText => faults.push(
                Diagnostic::error("unclosed-text", token.span, "this text has no closing quote").change(
                    token.span.after(),
                    "\"",
                    "close it on its line with \"",
                    false,
                ),
            ),
            TokenKind::Stray => {
                let sign = text.get(token.span.range()).unwrap_or("");
                if !sign.chars().any(is_hidden) && !matches!(sign, "+" | "-" | ":" | "/") {
                    faults.push(
                        Diagnostic::error(
                            "unknown-sign",
                            token.span,
                            format!("no statement has the sign '{sign}'"),
                        )
                        .help("take it out, or put # before it to make the rest of the line a remark"),
                    );
                }
            }
            TokenKind::Word
            | TokenKind::Number
            | TokenKind::Clock
            | TokenKind::Parts
            | TokenKind::Date
            | TokenKind::Fraction
            | TokenKind::Format
            | TokenKind::Comma
            | TokenKind::Open
            | TokenKind::Close
            | TokenKind::Percent
            | TokenKind::Text => {}
        }
    }
}

/// Hangs the lines' statements into blocks, with one stack and no recursion.
fn hang(tree: &Tree, faults: &mut Vec<Diagnostic>) -> Vec<Statement> {
    let mut open: Vec<Vec<Statement>> = vec![Vec::new()];
    for (number, line) in tree.lines.iter().enumerate() {
        let pieces = tree.tokens.get(line.tokens.clone()).unwrap_or(&[]);
        let Some((first, last)) = pieces.first().zip(pieces.last()) else { continue };
        if first.kind == TokenKind::Close {
            close_block(&mut open, first.span, faults);
            if let Some(after) = pieces.get(1) {
                faults.push(stray(after.span.to(last.span), "a closing brace stands alone on its line"));
            }
            continue;
        }
        let opens = last.kind == TokenKind::Open;
        let end = line.tokens.end - usize::from(opens);
        let inside = pieces.get(..pieces.len() - usize::from(opens)).unwrap_or(&[]);
        if let Some(brace) =
            inside.iter().find(|piece| matches!(piece.kind, TokenKind::Open | TokenKind::Close))
        {
            faults.push(stray(
                brace.span,
                "a block begins at the end of its line and ends on a line of its own",
            ));
            continue;
        }
        let Some((first, last)) = inside.first().zip(inside.last()) else {
            faults.push(stray(last.span, "this block has no header"));
            open.push(Vec::new());
            continue;
        };
        let span = first.span.to(last.span);
        let block = opens.then(Vec::new);
        let statement = Statement { line: number, tokens: line.tokens.start..end, span, block };
        if let Some(level) = open.last_mut() {
            level.push(statement);
        }
        if opens {
            open.push(Vec::new());
            if open.len() == DEPTH_MAX + 2 {
                faults.push(
                    Diagnostic::error("block-too-deep", span, "no block stands as deep as this")
                        .help("a declaration holds steps, a step holds a chart; move this block out"),
                );
            }
        }
    }
    close_missing(&mut open, faults);
    open.pop().unwrap_or_default()
}

fn close_block(open: &mut Vec<Vec<Statement>>, brace: Span, faults: &mut Vec<Diagnostic>) {
    if open.len() < 2 {
        faults.push(stray(brace, "this brace closes no block"));
        return;
    }
    let inner = open.pop().unwrap_or_default();
    if let Some(header) = open.last_mut().and_then(|level| level.last_mut())
        && header.block.is_some()
    {
        header.block = Some(inner);
    }
}

fn close_missing(open: &mut Vec<Vec<Statement>>, faults: &mut Vec<Diagnostic>) {
    while open.len() > 1 {
        let inner = open.pop().unwrap_or_default();
        if let Some(header) = open.last_mut().and_then(|level| level.last_mut())
            && header.block.is_some()
        {
            faults.push(
                Diagnostic::error("unclosed-block", header.span, "this block is not closed")
                    .help("put } on a line of its own where it ends"),
            );
            header.block = Some(inner);
        }
    }
}

fn stray(span: Span, message: &str) -> Diagnostic {
    Diagnostic::error("stray-brace", span, message)
        .help("write the header, then {, then one statement a line, then } alone")
}
