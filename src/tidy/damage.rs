//! Errors with which a file is not rewritten: the end of a block, or the content of a line, would be a guess.

/// The names of these errors.
const DAMAGE: &[&str] = &[
    "unclosed-block",
    "unopened-block",
    "stray-brace",
    "block-too-deep",
    "half-merged",
    "hidden-character",
    "unreadable-text",
];

/// Whether a file with this error is left unchanged.
#[must_use]
pub fn is_damage(name: &str) -> bool {
    DAMAGE.contains(&name)
}
