//! The layout of a file: the block of each line, the symbols, the folding ranges, and the formatting.

use super::protocol::{DocumentSymbol, FoldingRange, SymbolKind, TextEdit};
use super::view::{LISTED_MAX, View, small};
use crate::check::stated;
use crate::report::sanitise;
use crate::source::{FileId, Sorted as _, Sources, Span};
use crate::syntax::{Line, Statement, Token, TokenKind, Tree, parse};
use crate::tidy::tidy;
use crate::vocabulary::{Block, EDITION, Row, row_of};

/// The lines of a file, each with its block and the header of the block. Lines with unfinished statements are included.
pub(super) struct Lines<'a> {
    text: &'a str,
    pub(super) tree: Tree,
    /// For each line: the line number of the header of its block, and the kind of the block, if known.
    blocks: Vec<(Option<usize>, Option<Block>)>,
}

impl<'a> Lines<'a> {
    pub(super) fn of(sources: &'a Sources, file: FileId) -> Lines<'a> {
        let (tree, _) = parse(sources, file);
        let mut lines = Lines { text: sources.text(file), tree, blocks: Vec::new() };
        let mut open = vec![(None, Some(Block::File))];
        for number in 0..lines.tree.lines.len() {
            let edge = |token: Option<&Token>, kind| token.is_some_and(|token| token.kind == kind);
            if edge(lines.tokens(number).first(), TokenKind::Close) && open.len() > 1 {
                open.pop();
            }
            lines.blocks.extend(open.last());
            if edge(lines.tokens(number).last(), TokenKind::Open) {
                open.push((Some(number), lines.row(number).and_then(|row| row.opens)));
            }
        }
        lines
    }

    /// The edition of the language that the file's `wetside` line states; the newest edition if there is no such line.
    pub(super) fn edition(&self) -> u32 {
        let (edition, line) = stated(&self.tree, self.text);
        if line.start == line.end { EDITION } else { edition }
    }

    /// The index of the line that contains this byte.
    pub(super) fn at(&self, byte: u32) -> usize {
        let last = self.tree.lines.len().saturating_sub(1);
        self.tree.lines.partition_point(|line| line.bytes.end <= byte).min(last)
    }

    pub(super) fn get(&self, line: usize) -> Option<&Line> {
        self.tree.lines.get(line)
    }

    pub(super) fn tokens(&self, line: usize) -> &[Token] {
        let tokens = self.get(line).and_then(|line| self.tree.tokens.get(line.tokens.clone()));
        tokens.unwrap_or(&[])
    }

    pub(super) fn text(&self, token: &Token) -> &'a str {
        self.text.get(token.span.range()).unwrap_or("")
    }

    pub(super) fn block(&self, line: usize) -> Option<Block> {
        self.blocks.get(line).and_then(|(_, block)| *block)
    }

    pub(super) fn row(&self, line: usize) -> Option<&'static Row> {
        let first = self.tokens(line).first()?;
        let word = if first.kind == TokenKind::Word { self.text(first) } else { "" };
        let block = self.block(line)?;
        row_of(block, word).or_else(|| row_of(block, ""))
    }

    pub(super) fn siblings(&self, line: usize) -> impl Iterator<Item = &'a str> {
        let header = self.blocks.get(line).map(|(header, _)| *header);
        let all = self.blocks.iter().enumerate();
        let same = all.filter(move |(other, block)| *other != line && Some(block.0) == header);
        same.filter_map(|(other, _)| self.tokens(other).first().map(|token| self.text(token)))
    }
}

/// The declarations, steps and formulas of a file, nested like its blocks.
pub(super) fn symbols(view: &View, file: FileId) -> Vec<DocumentSymbol> {
    let lines = Lines::of(&view.sources, file);
    nested(view, &lines, &lines.tree.statements)
}

/// The symbols of these statements. The recursion is at most three deep, as blocks are.
fn nested(view: &View, lines: &Lines<'_>, statements: &[Statement]) -> Vec<DocumentSymbol> {
    statements.iter().filter_map(|statement| symbol(view, lines, statement)).take(LISTED_MAX).collect()
}

fn symbol(view: &View, lines: &Lines<'_>, statement: &Statement) -> Option<DocumentSymbol> {
    let inner = statement.block.as_deref()?;
    let block = lines.row(statement.line)?.opens?;
    let kind = match block {
        Block::Film => SymbolKind::Constant,
        Block::Ingredient | Block::Solution => SymbolKind::Struct,
        Block::Agitation | Block::Trial | Block::Test | Block::Session => SymbolKind::Event,
        Block::Tank | Block::Bath => SymbolKind::Object,
        Block::Recipe => SymbolKind::Class,
        Block::Backlog | Block::Strip | Block::Wedge | Block::Reader => SymbolKind::Array,
        Block::Collection => SymbolKind::Package,
        Block::Step(_) => SymbolKind::Method,
        Block::Formula => SymbolKind::Field,
        Block::File | Block::Chart => return None,
    };
    let tokens = lines.tree.tokens_in(&statement.tokens);
    let is_declared = !matches!(block, Block::Step(_) | Block::Formula);
    let name = tokens.get(1).filter(|token| is_declared && token.kind == TokenKind::Word);
    let title = tokens.iter().find(|token| is_declared && token.kind == TokenKind::Text);
    let span = name.map_or(statement.span, |name| name.span);
    let detail = title.or(tokens.first()).map(|token| lines.text(token).trim_matches('"'));
    Some(DocumentSymbol {
        name: sanitise(view.sources.slice(span)).into_owned(),
        detail: detail.map(|detail| sanitise(detail).into_owned()),
        kind,
        range: view.range(statement.extent),
        selection_range: view.range(span),
        children: nested(view, lines, inner),
    })
}

/// The folding ranges of a file: blocks up to the line before the closing brace, and comments of several lines.
pub(super) fn folds(view: &View, file: FileId) -> Vec<FoldingRange> {
    let lines = Lines::of(&view.sources, file);
    let fold = |span: Span, lines_after: u32, kind: Option<&'static str>| {
        let range = view.range(span);
        let (start_line, end_line) = (range.start.line, range.end.line.saturating_sub(lines_after));
        (start_line < end_line).then_some(FoldingRange { start_line, end_line, kind })
    };
    let mut extents = Vec::new();
    blocks(&lines.tree.statements, &mut extents);
    let mut folds: Vec<FoldingRange> =
        extents.into_iter().filter_map(|extent| fold(extent, 1, None)).take(LISTED_MAX).collect();
    let is_comment = |line: &Line| line.tokens.is_empty() && line.comment.is_some();
    for run in lines.tree.lines.chunk_by(|line, next| is_comment(line) && is_comment(next)) {
        if let [first, .., last] = run {
            let span = Span { file, start: first.bytes.start, end: last.bytes.start };
            folds.extend(fold(span, 0, Some("comment")));
        }
    }
    folds.order_by_key(|fold| fold.start_line);
    folds.truncate(LISTED_MAX);
    folds
}

fn blocks(statements: &[Statement], extents: &mut Vec<Span>) {
    for statement in statements {
        if let Some(inner) = &statement.block {
            extents.push(statement.extent);
            blocks(inner, extents);
        }
    }
}

/// An edit that replaces the whole text with its standard layout. Empty if nothing changes, or if `tidy` refuses the
/// text.
pub(super) fn formatted(view: &View, file: FileId) -> Vec<TextEdit> {
    let text = view.sources.text(file);
    let tidied = tidy(&view.sources, file).ok().filter(|tidied| tidied.text != text);
    let range = view.range(Span { file, start: 0, end: small(text.len()) });
    tidied.map(|tidied| TextEdit { range, new_text: tidied.text }).into_iter().collect()
}
