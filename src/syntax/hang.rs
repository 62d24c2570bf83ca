//! Hangs lines into blocks, with one stack and no recursion. A file whose braces do not pair is read
//! by its indentation where that tells which brace is missing.

use super::faults::FINDINGS_MAX;
use super::token::{Token, TokenKind};
use super::tree::{Line, Statement, Tree};
use crate::source::{Diagnostic, Span};

/// Declaration, step, inner block.
const DEPTH_MAX: usize = 3;

/// The statements of a file, with their blocks.
pub(super) fn hang(tree: &Tree, text: &str, faults: &mut Vec<Diagnostic>) -> Vec<Statement> {
    let mut rack = Rack { levels: vec![Vec::new()], headers: Vec::new(), faults };
    let (opened, closed) = braces(tree, text);
    for (number, line) in tree.lines.iter().enumerate() {
        let pieces = tree.tokens.get(line.tokens.clone()).unwrap_or(&[]);
        let Some((first, last)) = pieces.first().zip(pieces.last()) else { continue };
        if first.kind == TokenKind::Close {
            rack.close(first.span);
            if let Some(after) = pieces.get(1) {
                rack.tell(stray(after.span.to(last.span), "a closing brace stands alone on its line"));
            }
            continue;
        }
        let opens = opens(last, text);
        let end = line.tokens.end - usize::from(last.kind == TokenKind::Open);
        let inside = tree.tokens.get(line.tokens.start..end).unwrap_or(&[]);
        let brace = inside.iter().find(|piece| matches!(piece.kind, TokenKind::Open | TokenKind::Close));
        if let Some(brace) = brace {
            rack.tell(stray(
                brace.span,
                "a block begins at the end of its line and ends on a line of its own",
            ));
        }
        let indent = first.span.start - line.bytes.start;
        if opened > closed && opens {
            rack.close_shallower(indent);
        }
        let Some((first, last)) = inside.first().zip(inside.last()).filter(|_| brace.is_none()) else {
            if brace.is_none() {
                rack.tell(stray(last.span, "this block has no header"));
            }
            if opens {
                rack.open(last.span, indent, false);
            }
            continue;
        };
        let span = first.span.to(last.span);
        // A line with deeper lines below it, in a file with a closing brace too many, has lost its own.
        let lost = closed > opened && !opens && deeper_below(tree, number, indent);
        let block = (opens || lost).then(Vec::new);
        rack.hang(Statement { line: number, tokens: line.tokens.start..end, span, extent: span, block });
        if lost {
            rack.tell(
                Diagnostic::error("unopened-block", span.after(), "the block of this line is not opened")
                    .change(span.after(), " {", "end the line with {", false),
            );
        }
        if opens || lost {
            rack.open(span, indent, true);
        }
    }
    rack.finish()
}

/// How many blocks are opened and how many closed.
fn braces(tree: &Tree, text: &str) -> (usize, usize) {
    let lines = tree.lines.iter().filter_map(|line| tree.tokens.get(line.tokens.clone()));
    lines.fold((0, 0), |(opened, closed), pieces| match (pieces.first(), pieces.last()) {
        (Some(first), _) if first.kind == TokenKind::Close => (opened, closed + 1),
        (_, Some(last)) if opens(last, text) => (opened + 1, closed),
        (Some(_) | None, _) => (opened, closed),
    })
}

/// Whether a line that ends with this piece opens a block; a text without its end may have taken the
/// brace in.
fn opens(last: &Token, text: &str) -> bool {
    let swallowed = || text.get(last.span.range()).is_some_and(|words| words.trim_end().ends_with('{'));
    last.kind == TokenKind::Open || (last.kind == TokenKind::OpenText && swallowed())
}

fn deeper_below(tree: &Tree, number: usize, indent: u32) -> bool {
    let first = |line: &Line| {
        tree.tokens
            .get(line.tokens.clone())?
            .first()
            .map(|piece| (piece.span.start - line.bytes.start, piece.kind))
    };
    let below = tree.lines.iter().skip(number + 1).find_map(first);
    below.is_some_and(|(below, kind)| below > indent && kind != TokenKind::Close)
}

/// Blocks that are open.
struct Rack<'f> {
    levels: Vec<Vec<Statement>>,
    headers: Vec<Header>,
    faults: &'f mut Vec<Diagnostic>,
}

/// The header of an open block.
struct Header {
    span: Span,
    indent: u32,
    /// Whether it is a statement of the level below, so that its block is hung on it.
    is_statement: bool,
}

impl Rack<'_> {
    fn tell(&mut self, fault: Diagnostic) {
        if self.faults.len() < FINDINGS_MAX {
            self.faults.push(fault);
        }
    }

    fn hang(&mut self, statement: Statement) {
        if let Some(level) = self.levels.last_mut() {
            level.push(statement);
        }
    }

    fn open(&mut self, span: Span, indent: u32, is_statement: bool) {
        self.levels.push(Vec::new());
        self.headers.push(Header { span, indent, is_statement });
        if self.headers.len() == DEPTH_MAX + 1 {
            self.tell(
                Diagnostic::error("block-too-deep", span, "no block stands as deep as this")
                    .help("a declaration holds steps, a step holds a chart; move this block out"),
            );
        }
    }

    fn close(&mut self, brace: Span) {
        if self.headers.is_empty() {
            self.tell(
                Diagnostic::error("stray-brace", brace, "this brace closes no block")
                    .help("take it out, or look where a block was closed too early"),
            );
            return;
        }
        self.pop(brace);
    }

    /// Closes the blocks whose headers stand no less deep than a header at this indentation would.
    fn close_shallower(&mut self, indent: u32) {
        while let Some(header) = self.headers.last().filter(|header| header.indent >= indent) {
            let span = header.span;
            self.tell(unclosed(span));
            self.pop(span);
        }
    }

    fn pop(&mut self, end: Span) {
        let inner = self.levels.pop().unwrap_or_default();
        let header = self.headers.pop();
        if let Some(statement) = self.levels.last_mut().and_then(|level| level.last_mut())
            && header.is_some_and(|header| header.is_statement)
        {
            let last = inner.last().map_or(end, |last| last.extent.to(end));
            statement.extent = statement.span.to(last);
            statement.block = Some(inner);
        }
    }

    fn finish(mut self) -> Vec<Statement> {
        while let Some(header) = self.headers.last() {
            let span = header.span;
            self.tell(unclosed(span));
            self.pop(span);
        }
        self.levels.pop().unwrap_or_default()
    }
}

fn unclosed(span: Span) -> Diagnostic {
    Diagnostic::error("unclosed-block", span, "this block is not closed")
        .help("put } on a line of its own where it ends")
}

fn stray(span: Span, message: &str) -> Diagnostic {
    Diagnostic::error("stray-brace", span, message)
        .help("write the header, then {, then one statement a line, then } alone")
}
