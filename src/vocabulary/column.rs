//! Where values stand in the tidy form: a column for each kind of block. It is a property of the
//! block and never of its lines, so that no change of one line moves its neighbours.

use super::row::Block;

/// How many columns behind its indentation the values of a block's lines begin. A word that reaches
/// that far has one space behind it; in a file every word has.
#[must_use]
pub fn column(block: Block) -> usize {
    match block {
        Block::File => 0,
        Block::Film
        | Block::Solution
        | Block::Agitation
        | Block::Tank
        | Block::Recipe
        | Block::Step(_)
        | Block::Bath
        | Block::Test
        | Block::Session
        | Block::Backlog => 10,
        Block::Formula => 17,
        Block::Chart => 7,
    }
}
