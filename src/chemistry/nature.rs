//! What an ingredient makes of its bath: acid, alkaline or hardening. Rules about the order of baths
//! ask for no more than that, so it stands here as three short lists and not as a pH.

use super::ingredient::Ingredient;

/// They make a bath acid. Boric acid is not among them: in a developer it is there to hold the pH.
const ACIDS: &[&str] = &[
    "acetic-acid",
    "citric-acid",
    "potassium-metabisulfite",
    "sodium-bisulfate",
    "sodium-bisulfite",
    "sodium-metabisulfite",
    "sulfuric-acid",
];

/// They make a bath alkaline enough to develop in. Sulfite alone is too weak to count.
const ALKALIS: &[&str] = &[
    "borax",
    "potassium-carbonate",
    "potassium-hydroxide",
    "sodium-carbonate",
    "sodium-hydroxide",
    "sodium-metaborate",
];

/// They harden gelatin.
const HARDENERS: &[&str] = &["chrome-alum", "potassium-alum"];

impl Ingredient {
    /// Whether it makes a bath acid.
    #[must_use]
    pub fn is_acid(&self) -> bool {
        ACIDS.contains(&self.name)
    }

    /// Whether it makes a bath alkaline.
    #[must_use]
    pub fn is_alkali(&self) -> bool {
        ALKALIS.contains(&self.name)
    }

    /// Whether it hardens gelatin.
    #[must_use]
    pub fn is_hardener(&self) -> bool {
        HARDENERS.contains(&self.name)
    }
}
