//! Faults with which a file is not rewritten at all: where a block ends, or what a line holds, would
//! be a guess, and a guess that is written down looks like an intention.

/// The names of such faults, as they are told of the text's form.
const DAMAGE: &[&str] = &[
    "unclosed-block",
    "unopened-block",
    "stray-brace",
    "block-too-deep",
    "half-merged",
    "hidden-character",
    "unreadable-text",
];

/// Whether a file with this fault is to be left as it stands.
#[must_use]
pub fn is_damage(name: &str) -> bool {
    DAMAGE.contains(&name)
}
