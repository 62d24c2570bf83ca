//! The block and header of each line, found without parsing values, so that an unfinished statement has them too.

use crate::source::{FileId, Sources};
use crate::syntax::{Line, Token, TokenKind, Tree, parse};
use crate::vocabulary::{Block, Row, row_of};

/// The lines of a file, each with its block and header.
pub(super) struct Lines<'a> {
    text: &'a str,
    pub(super) tree: Tree,
    /// For each line its header's line and its block, if known.
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

    /// The number of the line that holds a byte.
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

    /// The row of the statement on a line.
    pub(super) fn row(&self, line: usize) -> Option<&'static Row> {
        let first = self.tokens(line).first()?;
        let word = if first.kind == TokenKind::Word { self.text(first) } else { "" };
        let block = self.block(line)?;
        row_of(block, word).or_else(|| row_of(block, ""))
    }

    /// The first words of the other lines of the same block.
    pub(super) fn siblings(&self, line: usize) -> impl Iterator<Item = &'a str> {
        let header = self.blocks.get(line).map(|(header, _)| *header);
        let all = self.blocks.iter().enumerate();
        let same = all.filter(move |(other, block)| *other != line && Some(block.0) == header);
        same.filter_map(|(other, _)| self.tokens(other).first().map(|token| self.text(token)))
    }
}
