//! The whole table of statements, from its parts.

use super::files::FILES;
use super::recipes::RECIPES;
use super::row::{Block, Row};
use super::shelf::SHELF;
use super::tanks::TANKS;

/// The whole table, in the order of the reference.
pub fn rows() -> impl Iterator<Item = &'static Row> {
    FILES.iter().chain(SHELF).chain(TANKS).chain(RECIPES)
}

/// The rows that may stand in a block.
pub fn rows_of(block: Block) -> impl Iterator<Item = &'static Row> {
    rows().filter(move |row| row.blocks.contains(&block))
}
