//! Lines to blocks, without recursion. Where braces do not pair, the indentation decides which one is missing.

use super::parse::FINDINGS_MAX;
use super::tree::{Line, Statement, Token, TokenKind, Tree};
use crate::source::{Diagnostic, Span};

/// Declaration, step, inner block.
const DEPTH_MAX: usize = 3;

/// The statements of a file with their blocks.
pub(super) fn blocks(tree: &Tree, text: &str, errors: &mut Vec<Diagnostic>) -> Vec<Statement> {
    let mut open = OpenBlocks { levels: vec![Vec::new()], headers: Vec::new(), errors };
    let (opened, closed) = braces(tree, text);
    for (number, line) in tree.lines.iter().enumerate() {
        let tokens = tree.tokens.get(line.tokens.clone()).unwrap_or(&[]);
        let Some((first, last)) = tokens.first().zip(tokens.last()) else { continue };
        if first.kind == TokenKind::Close {
            open.close(first.span);
            if let Some(after) = tokens.get(1) {
                open.report(stray(after.span.to(last.span), "a closing brace must be alone on its line"));
            }
            continue;
        }
        let opens = opens(last, text);
        let end = line.tokens.end - usize::from(last.kind == TokenKind::Open);
        let inside = tree.tokens.get(line.tokens.start..end).unwrap_or(&[]);
        let brace = inside.iter().find(|token| matches!(token.kind, TokenKind::Open | TokenKind::Close));
        if let Some(brace) = brace {
            let message = "a block opens at the end of a line and closes on a line of its own";
            open.report(stray(brace.span, message));
        }
        let indent = first.span.start - line.bytes.start;
        if opened > closed && opens {
            open.close_unclosed(indent);
        }
        let Some((first, last)) = inside.first().zip(inside.last()).filter(|_| brace.is_none()) else {
            if brace.is_none() {
                open.report(stray(last.span, "this block has no header"));
            }
            if opens {
                open.open(last.span, indent, false);
            }
            continue;
        };
        let span = first.span.to(last.span);
        // In a file with a closing brace too many, a line above deeper ones has lost its opening brace.
        let lost = closed > opened && !opens && deeper_below(tree, number, indent);
        let block = (opens || lost).then(Vec::new);
        open.add(Statement { line: number, tokens: line.tokens.start..end, span, extent: span, block });
        if lost {
            let end = span.after();
            let fault = Diagnostic::error("unopened-block", end, "this header has no opening brace");
            open.report(fault.offer(" {", "end the line with {"));
        }
        if opens || lost {
            open.open(span, indent, true);
        }
    }
    open.finish()
}

fn braces(tree: &Tree, text: &str) -> (usize, usize) {
    let lines = tree.lines.iter().filter_map(|line| tree.tokens.get(line.tokens.clone()));
    lines.fold((0, 0), |(opened, closed), tokens| match (tokens.first(), tokens.last()) {
        (Some(first), _) if first.kind == TokenKind::Close => (opened, closed + 1),
        (_, Some(last)) if opens(last, text) => (opened + 1, closed),
        (Some(_) | None, _) => (opened, closed),
    })
}

/// Whether a line that ends with this token opens a block; a text without a closing quote may contain the brace.
fn opens(last: &Token, text: &str) -> bool {
    let swallowed = || text.get(last.span.range()).is_some_and(|words| words.trim_end().ends_with('{'));
    last.kind == TokenKind::Open || (last.kind == TokenKind::OpenText && swallowed())
}

/// Whether the next line with tokens is a statement that is indented further.
fn deeper_below(tree: &Tree, number: usize, indent: u32) -> bool {
    let first = |line: &Line| Some((line.bytes.start, tree.tokens.get(line.tokens.clone())?.first()?));
    let below = tree.lines.iter().skip(number + 1).find_map(first);
    below.is_some_and(|(start, token)| token.span.start - start > indent && token.kind != TokenKind::Close)
}

struct OpenBlocks<'f> {
    levels: Vec<Vec<Statement>>,
    headers: Vec<Header>,
    errors: &'f mut Vec<Diagnostic>,
}

struct Header {
    span: Span,
    indent: u32,
    /// Whether it is a statement, which gets the block.
    is_statement: bool,
}

impl OpenBlocks<'_> {
    fn report(&mut self, error: Diagnostic) {
        if self.errors.len() < FINDINGS_MAX {
            self.errors.push(error);
        }
    }

    fn add(&mut self, statement: Statement) {
        if let Some(level) = self.levels.last_mut() {
            level.push(statement);
        }
    }

    fn open(&mut self, span: Span, indent: u32, is_statement: bool) {
        self.levels.push(Vec::new());
        self.headers.push(Header { span, indent, is_statement });
        if self.headers.len() == DEPTH_MAX + 1 {
            self.report(
                Diagnostic::error("block-too-deep", span, "blocks nest at most three deep")
                    .help("a declaration holds steps, a step holds a chart; move this block out"),
            );
        }
    }

    fn close(&mut self, brace: Span) {
        if self.headers.is_empty() {
            let fault = Diagnostic::error("stray-brace", brace, "this brace closes no block");
            self.report(fault.help("remove it, or look for a block that is closed too early"));
            return;
        }
        self.pop(brace);
    }

    /// Reports and closes the blocks of headers that are indented as far or further.
    fn close_unclosed(&mut self, indent: u32) {
        while let Some(header) = self.headers.last().filter(|header| header.indent >= indent) {
            let span = header.span;
            let fault = Diagnostic::error("unclosed-block", span, "this block is not closed");
            self.report(fault.help("write } on a line of its own where it ends"));
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
        self.close_unclosed(0);
        self.levels.pop().unwrap_or_default()
    }
}

fn stray(span: Span, message: &str) -> Diagnostic {
    Diagnostic::error("stray-brace", span, message)
        .help("write the header, then {, then one statement a line, then } alone")
}
