//! Figures that can be read across a room: five rows high, drawn in full blocks.

/// Rows that a figure takes.
pub(super) const HIGH: usize = 5;

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

/// A clock such as `12:34` in five rows, each block as many columns wide as there is room for up to two;
/// `None` where there is no room at all.
pub(super) fn large(clock: &str, columns: usize) -> Option<[String; HIGH]> {
    let figures: Vec<&[&str; HIGH]> = clock
        .chars()
        .filter_map(|letter| FIGURES.iter().find(|(known, _)| *known == letter).map(|(_, rows)| rows))
        .collect();
    let blocks: usize = figures.iter().map(|[first, ..]| first.len() + 1).sum();
    let wide = [2, 1].into_iter().find(|wide| blocks.saturating_sub(1) * wide <= columns)?;
    let row = |at: usize| {
        let pieces: Vec<&str> = figures.iter().filter_map(|rows| rows.get(at).copied()).collect();
        let drawn = pieces.join(" ").replace('#', "\u{2588}");
        drawn.chars().flat_map(|block| std::iter::repeat_n(block, wide)).collect::<String>()
    };
    Some(std::array::from_fn(row))
}
