//! Figures that can be read across a room: five rows of blocks high, and the blocks as large as the screen
//! has room for.

/// Rows of blocks that a figure takes.
pub(super) const HIGH: usize = 5;
/// Blocks from the left of `12:34` to its right; a longer clock is drawn in narrower ones.
const BROAD: usize = 17;

/// Each figure in its five rows; a `#` is a block.
const FIGURES: [(char, [&str; HIGH]); 11] = [
    ('0', ["###", "# #", "# #", "# #", "###"]),
    ('1', [" # ", "## ", " # ", " # ", "###"]),
    ('2', ["###", "  #", "###", "#  ", "###"]),
    ('3', ["###", "  #", "###", "  #", "###"]),
    ('4', ["# #", "# #", "###", "  #", "  #"]),
    ('5', ["###", "#  ", "###", "  #", "###"]),
    ('6', ["###", "#  ", "###", "# #", "###"]),
    ('7', ["###", "  #", "  #", "  #", "  #"]),
    ('8', ["###", "# #", "###", "# #", "###"]),
    ('9', ["###", "# #", "###", "  #", "###"]),
    (':', [" ", "#", " ", "#", " "]),
];

/// How many rows each block may take where this much is free.
pub(super) fn scale(columns: usize, rows: usize) -> usize {
    (columns / (2 * BROAD)).min(rows / HIGH).max(1)
}

/// A clock such as `12:34`, each block so many rows high, and twice as many columns wide or as there is room
/// for; `None` where there is no room at all.
pub(super) fn large(clock: &str, columns: usize, scale: usize) -> Option<Vec<String>> {
    let figures: Vec<&[&str; HIGH]> = clock
        .chars()
        .filter_map(|letter| FIGURES.iter().find(|(known, _)| *known == letter).map(|(_, rows)| rows))
        .collect();
    let blocks: usize = figures.iter().map(|[first, ..]| first.len() + 1).sum();
    let wide = (1..=2 * scale).rev().find(|wide| blocks.saturating_sub(1) * wide <= columns)?;
    let row = |at: usize| {
        let pieces: Vec<&str> = figures.iter().filter_map(|rows| rows.get(at).copied()).collect();
        let drawn = pieces.join(" ").replace('#', "\u{2588}");
        drawn.chars().flat_map(|block| std::iter::repeat_n(block, wide)).collect::<String>()
    };
    Some((0..HIGH).flat_map(|at| std::iter::repeat_n(row(at), scale)).collect())
}
