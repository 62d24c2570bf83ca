//! The faults that this stage tells, and how many findings of one file are told at all.

use crate::source::{Diagnostic, Span};

/// The names of the faults that this stage tells, each with its meaning.
pub const FAULTS: &[(&str, &str)] = &[
    ("hidden-character", "a character that does not show, or turns the direction of the text"),
    ("line-too-long", "a line of more than 4,096 bytes"),
    ("unclosed-text", "a text whose closing quote is missing"),
    ("unclosed-block", "a block whose closing brace is missing"),
    ("unopened-block", "a header whose opening brace is missing"),
    ("half-merged", "a file in which two versions stand unmerged"),
    ("foreign-letter", "a letter, a sign or a space that only looks like one of the language"),
    ("stray-brace", "a brace where no block begins or ends"),
    ("block-too-deep", "a block deeper than declaration, step and inner block"),
    ("unknown-sign", "a sign that no statement has"),
    ("unreadable-text", "a text that the grammar could not get through"),
    ("too-many-findings", "so many findings that the rest was not looked at"),
];

/// So many findings of one file are told; past that there is no use in more.
pub const FINDINGS_MAX: usize = 10_000;

/// What is told where looking further was given up, so that nobody takes what was told for all.
#[must_use]
pub fn too_many_findings(span: Span) -> Diagnostic {
    Diagnostic::error(
        "too-many-findings",
        span,
        "what follows was not looked at: over 10,000 findings are told",
    )
    .help("mend these, then check again")
}
