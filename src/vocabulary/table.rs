//! The whole table of statements, and look-ups in it.

use std::sync::LazyLock;

use super::collections::COLLECTIONS;
use super::darkroom::DARKROOM;
use super::files::FILES;
use super::recipes::RECIPES;
use super::row::{Block, Row};
use super::shelf::SHELF;
use super::tanks::TANKS;
use super::trials::TRIALS;
use crate::source::{Map, Set};

use crate::source::Sorted as _;

/// All rows of the vocabulary table, in the order of the language reference.
pub fn rows() -> impl Iterator<Item = &'static Row> {
    TABLE.iter().copied()
}

/// The rows of the statements that a block may have.
pub fn rows_of(block: Block) -> impl Iterator<Item = &'static Row> {
    BY_BLOCK.get(&block).into_iter().flatten().copied()
}

/// The row for a statement with this first word in a block; `None` if there is no such statement. The empty word is for
/// lines that begin with a value.
pub fn row_of(block: Block, word: &str) -> Option<&'static Row> {
    let rows = BY_WORD.get(&block)?;
    let at = rows.partition_point(|row| (row.word.len(), row.word) < (word.len(), word));
    rows.get(at).copied().filter(|row| row.word == word)
}

/// The blocks that may have a statement with this first word, without repetitions.
pub fn blocks_of(word: &str) -> Vec<Block> {
    let blocks: Set<Block> =
        rows().filter(|row| row.word == word).flat_map(|row| row.blocks).copied().collect();
    blocks.into_iter().collect()
}

static TABLE: LazyLock<Vec<&'static Row>> = LazyLock::new(|| {
    let parts = [FILES, SHELF, TANKS, RECIPES, TRIALS, DARKROOM, COLLECTIONS];
    parts.into_iter().flatten().flat_map(|rows| rows()).filter(|row| !row.blocks.is_empty()).collect()
});

/// The rows of the vocabulary table for each block. They are collected only once, because every line of every file is
/// looked up.
static BY_BLOCK: LazyLock<Map<Block, Vec<&'static Row>>> = LazyLock::new(|| {
    let mut by_block: Map<Block, Vec<&Row>> = Map::new();
    for row in rows() {
        row.blocks.iter().for_each(|block| by_block.value_of(*block).push(row));
    }
    by_block
});

/// The rows of `BY_BLOCK`, sorted for a binary search: first by the length of their first word, which is quick to
/// compare, then by the word.
static BY_WORD: LazyLock<Map<Block, Vec<&'static Row>>> = LazyLock::new(|| {
    let mut by_word = BY_BLOCK.clone();
    by_word.values_mut().for_each(|rows| rows.order_by_key(|row| (row.word.len(), row.word)));
    by_word
});
