//! Groups the lines of a file into blocks, without recursion. If braces are missing, the indentation shows where blocks
//! end.

use std::ops::Range;

use super::parse::FINDINGS_MAX;
use super::tree::{Line, Statement, Token, TokenKind, Tree};
use crate::source::{Diagnostic, Span};

/// The deepest nesting of blocks: a declaration, a step in the declaration, and a block in the step.
const DEPTH_MAX: usize = 3;

pub(super) fn blocks(tree: &Tree, text: &str, errors: &mut Vec<Diagnostic>) -> Vec<Statement> {
    let mut open = OpenBlocks { top: Vec::new(), open: Vec::new(), errors };
    let (opened, closed) = braces(tree, text);
    for (number, line) in tree.lines.iter().enumerate() {
        let tokens = tree.tokens_in(&line.tokens);
        let Some((first, last)) = tokens.first().zip(tokens.last()) else { continue };
        if first.kind == TokenKind::Close {
            open.close(first.span);
            open.after_close(tree, number, line, tokens);
            continue;
        }
        let opens = opens(last, text);
        let end = line.tokens.end - usize::from(last.kind == TokenKind::Open);
        let inside = tree.tokens_in(&(line.tokens.start..end));
        let brace = inside.iter().find(|token| matches!(token.kind, TokenKind::Open | TokenKind::Close));
        if let Some(brace) = brace {
            let message = "a { must end its line, and a } must be alone on its line";
            open.report(stray(brace.span, message));
        }
        let indent = first.span.start - line.bytes.start;
        if opened > closed && opens {
            open.close_unclosed(indent);
        }
        let Some((first, last)) = inside.first().zip(inside.last()).filter(|_| brace.is_none()) else {
            let begun = inside.iter().position(|token| token.kind == TokenKind::Open);
            if let Some(begun) = begun.filter(|at| *at > 0 && begins_block(inside)) {
                open.open_statement(tree, number, line.tokens.start..line.tokens.start + begun, indent);
                continue;
            }
            if brace.is_none() {
                if open.reopen(tree, number, last.span, indent) {
                    continue;
                }
                open.report(headless(last.span));
            }
            if opens {
                open.open(last.span, indent, false);
            }
            continue;
        };
        let span = first.span.to(last.span);
        // If the file has more `}` than `{`, a `{` is missing somewhere. A line counts as a header that lacks its `{`
        // if the next line is indented more.
        let lost = closed > opened && !opens && deeper_below(tree, number, indent);
        let block = (opens || lost).then(Vec::new);
        let tokens = line.tokens.start..end;
        open.statements().push(Statement { line: number, tokens, span, extent: span, block });
        if lost {
            let end = span.after();
            let fault = Diagnostic::error("unopened-block", end, "the { at the end of this line is missing");
            open.report(fault.offer(" {", "end the line with {"));
        }
        if opens || lost {
            open.open(span, indent, true);
        }
    }
    open.close_unclosed(0);
    open.top
}

fn braces(tree: &Tree, text: &str) -> (usize, usize) {
    let lines = tree.lines.iter().map(|line| tree.tokens_in(&line.tokens));
    lines.fold((0, 0), |(opened, closed), tokens| match (tokens.first(), tokens.last()) {
        (Some(first), Some(last)) if first.kind == TokenKind::Close => {
            (opened + usize::from(last.kind == TokenKind::Open && tokens.len() > 2), closed + 1)
        }
        _ if begins_block(tokens) => (opened + 1, closed),
        (_, Some(last)) if opens(last, text) => (opened + 1, closed),
        (Some(_) | None, _) => (opened, closed),
    })
}

/// Whether the only brace in these tokens of a line is a `{` with text after it, as in `film tide { grain tabular`.
fn begins_block(tokens: &[Token]) -> bool {
    let braces = || tokens.iter().filter(|token| matches!(token.kind, TokenKind::Open | TokenKind::Close));
    let is_last = tokens.last().is_some_and(|last| last.kind == TokenKind::Open);
    !is_last && braces().count() == 1 && braces().all(|brace| brace.kind == TokenKind::Open)
}

/// Whether a line that ends with this token opens a block. If a text lacks its closing quote, the `{` is inside the
/// text.
fn opens(last: &Token, text: &str) -> bool {
    let swallowed = || last.span.slice(text).trim_end().ends_with('{');
    last.kind == TokenKind::Open || (last.kind == TokenKind::OpenText && swallowed())
}

fn deeper_below(tree: &Tree, number: usize, indent: u32) -> bool {
    let first = |line: &Line| Some((line.bytes.start, tree.tokens_in(&line.tokens).first()?));
    let below = tree.lines.iter().skip(number + 1).find_map(first);
    below.is_some_and(|(start, token)| token.span.start - start > indent && token.kind != TokenKind::Close)
}

struct OpenBlocks<'f> {
    /// The statements outside of all blocks.
    top: Vec<Statement>,
    /// The blocks still open, the innermost last.
    open: Vec<OpenBlock>,
    errors: &'f mut Vec<Diagnostic>,
}

struct OpenBlock {
    header: Span,
    indent: u32,
    /// Whether the header is a statement, and not only a `{`. The statements in the block then belong to it.
    is_statement: bool,
    statements: Vec<Statement>,
}

impl OpenBlocks<'_> {
    fn report(&mut self, error: Diagnostic) {
        if self.errors.len() < FINDINGS_MAX {
            self.errors.push(error);
        }
    }

    fn statements(&mut self) -> &mut Vec<Statement> {
        self.open.last_mut().map_or(&mut self.top, |block| &mut block.statements)
    }

    fn open(&mut self, header: Span, indent: u32, is_statement: bool) {
        self.open.push(OpenBlock { header, indent, is_statement, statements: Vec::new() });
        if self.open.len() == DEPTH_MAX + 1 {
            self.report(
                Diagnostic::error(
                    "block-too-deep",
                    header,
                    "a line within three pairs of braces may not begin another pair",
                )
                .help("remove its { and }"),
            );
        }
    }

    /// Reports the text after a `}` on the same line. If that text opens a block, the block is read: otherwise its
    /// lines would cause further errors.
    fn after_close(&mut self, tree: &Tree, number: usize, line: &Line, tokens: &[Token]) {
        let ([brace, after, ..], Some(last)) = (tokens, tokens.last()) else { return };
        let mut fault = stray(after.span.to(last.span), "a closing brace must be alone on its line");
        fault.help = vec!["move the text after the } to the next line".to_owned()];
        self.report(fault);
        if last.kind == TokenKind::Open && tokens.len() > 2 {
            let header = line.tokens.start + 1..line.tokens.end - 1;
            self.open_statement(tree, number, header, brace.span.start - line.bytes.start);
        }
    }

    fn open_statement(&mut self, tree: &Tree, line: usize, tokens: Range<usize>, indent: u32) {
        let header = tree.tokens_in(&tokens);
        let Some((first, last)) = header.first().zip(header.last()) else { return };
        let span = first.span.to(last.span);
        self.statements().push(Statement { line, tokens, span, extent: span, block: Some(Vec::new()) });
        self.open(span, indent, true);
    }

    /// Handles a `{` that is alone on its line. If the line before it is a statement without a block, reports the `{`,
    /// opens that statement's block and returns true.
    fn reopen(&mut self, tree: &Tree, line: usize, brace: Span, indent: u32) -> bool {
        let before = line.checked_sub(1).filter(|before| tree.lines.get(*before).is_some());
        let statement = self.statements().last_mut();
        let Some(statement) = statement.filter(|last| Some(last.line) == before && last.block.is_none())
        else {
            return false;
        };
        statement.block = Some(Vec::new());
        let header = statement.span;
        let fault = Diagnostic::error("stray-brace", brace, "the { belongs at the end of the line before");
        self.report(fault.help("move it to the end of that line"));
        self.open(header, indent, true);
        true
    }

    /// Reports and closes the open blocks whose header is indented by at least `indent` bytes.
    fn close_unclosed(&mut self, indent: u32) {
        while let Some(block) = self.open.last().filter(|block| block.indent >= indent) {
            let header = block.header;
            let fault = Diagnostic::error("unclosed-block", header, "this block is not closed");
            self.report(fault.help("write } on a line of its own where it ends"));
            self.close(header);
        }
    }

    /// Closes the innermost block. `end` is the span of its `}`, or of its header if the `}` is missing.
    fn close(&mut self, end: Span) {
        let Some(block) = self.open.pop() else {
            let fault = Diagnostic::error("stray-brace", end, "this brace closes no block");
            return self.report(fault.help("remove it, or look for a block that is closed too early"));
        };
        if let Some(statement) = self.statements().last_mut().filter(|_| block.is_statement) {
            let last = block.statements.last().map_or(end, |last| last.extent.to(end));
            statement.extent = statement.span.to(last);
            statement.block = Some(block.statements);
        }
    }
}

/// The error for a `{` without a header before it.
fn headless(span: Span) -> Diagnostic {
    Diagnostic::error("stray-brace", span, "nothing stands before this {")
        .help("remove this { and its }, or name before it what begins here")
}

fn stray(span: Span, message: &str) -> Diagnostic {
    Diagnostic::error("stray-brace", span, message)
        .help("end the line after a {; put each } alone on a line, and each statement on a line")
}
