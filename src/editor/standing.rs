//! The block and header of each line, found without parsing values, so that an unfinished statement has them too.

use crate::source::{FileId, Sources};
use crate::syntax::{Line, Token, TokenKind, Tree, parse};
use crate::vocabulary::{Block, Row, line_of, row_of};

/// The lines of a file, each with its block and header.
pub(super) struct Shape<'a> {
    text: &'a str,
    /// The tree of the file.
    pub(super) tree: Tree,
    /// For each line its header's line and its block, if known.
    places: Vec<(Option<usize>, Option<Block>)>,
}

impl<'a> Shape<'a> {
    /// Reads a file's lines.
    pub(super) fn of(sources: &'a Sources, file: FileId) -> Shape<'a> {
        let (tree, _) = parse(sources, file);
        let mut shape = Shape { text: sources.text(file), tree, places: Vec::new() };
        let mut open: Vec<(usize, Option<Block>)> = Vec::new();
        for number in 0..shape.tree.lines.len() {
            let first = shape.pieces(number).first().map(|piece| piece.kind);
            if first == Some(TokenKind::Close) {
                open.pop();
            }
            let (header, block) = match open.last() {
                Some((header, block)) => (Some(*header), *block),
                None => (None, Some(Block::File)),
            };
            shape.places.push((header, block));
            if shape.pieces(number).last().is_some_and(|piece| piece.kind == TokenKind::Open) {
                open.push((number, shape.row(number).and_then(|row| row.opens)));
            }
        }
        shape
    }

    /// The number of the line that holds a byte.
    pub(super) fn line_at(&self, byte: u32) -> usize {
        let ended = |line: &Line| line.bytes.end <= byte;
        let last = self.tree.lines.len().saturating_sub(1);
        self.tree.lines.partition_point(ended).min(last)
    }

    /// The tokens of a line.
    pub(super) fn pieces(&self, line: usize) -> &[Token] {
        let range = self.tree.lines.get(line).map(|line| line.tokens.clone());
        range.and_then(|range| self.tree.tokens.get(range)).unwrap_or(&[])
    }

    /// The text of a token.
    pub(super) fn words(&self, piece: &Token) -> &'a str {
        self.text.get(piece.span.range()).unwrap_or("")
    }

    /// The block of a line.
    pub(super) fn block(&self, line: usize) -> Option<Block> {
        self.places.get(line).and_then(|(_, block)| *block)
    }

    /// The row of the statement on a line.
    pub(super) fn row(&self, line: usize) -> Option<&'static Row> {
        let first = self.pieces(line).first()?;
        let word = if first.kind == TokenKind::Word { self.words(first) } else { "" };
        let block = self.block(line)?;
        row_of(block, word).or_else(|| line_of(block))
    }

    /// The first words of the other lines of the same block.
    pub(super) fn beside(&self, line: usize) -> impl Iterator<Item = &'a str> {
        let header = self.places.get(line).and_then(|(header, _)| *header);
        let same =
            self.places.iter().enumerate().filter(move |(other, place)| *other != line && place.0 == header);
        same.filter_map(|(other, _)| self.pieces(other).first().map(|piece| self.words(piece)))
    }
}
