//! The fingerprint: a number for what a recipe does, so that a note on a negative's sleeve finds the very version.

use sha2::{Digest, Sha256};

use crate::model::{Fact, Recipe, lines};

/// The first eight hexadecimal digits of the SHA-256 of the recipe's work.
#[must_use]
pub fn fingerprint(recipe: &Recipe) -> String {
    digits(&recipe.work())
}

/// The same of any facts.
#[must_use]
pub fn digits(facts: &[Fact<'_>]) -> String {
    let hash = Sha256::digest(lines(facts).as_bytes());
    hash.iter().take(4).map(|byte| format!("{byte:02x}")).collect()
}
