//! What is sold by strength harms by strength: an acid that burns as it is sold may do nothing when it is weak.

use super::hazard::{H226, H290, H314, H315, H319, Hazard};
use super::ingredient::Ingredient;

/// An ingredient in a solution, and how strong it is when a hand opens its bottle.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Held {
    /// The ingredient.
    pub ingredient: &'static Ingredient,
    /// Its strength.
    pub strength: Strength,
}

/// How strong an ingredient is that is sold by strength.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Strength {
    /// Nobody says, or it is pure: it is taken at its strongest.
    Unsaid,
    /// In hundredths of a percent.
    Of(u32),
}

/// From so many hundredths of a percent on these statements hold; the strongest first, and below all of them none.
type Limits = &'static [(u32, &'static [&'static Hazard])];

// The limits of acetic acid, 10, 25 and 90 %, are those of its entry in the EU's CLP Regulation, as read in a
// trade sheet, the statements from memory; those of sulfuric acid, 5 and 15 %, stand here from memory.
const LIMITS: &[(&str, Limits)] = &[
    ("acetic-acid", &[(9000, &[H226, H314]), (2500, &[H314]), (1000, &[H315, H319])]),
    ("sulfuric-acid", &[(1500, &[H290, H314]), (500, &[H315, H319])]),
];

/// What is mixed by volume closely enough for the cross to hold, and how strong it is, in hundredths of a
/// percent, where its word stands in place of a percentage: as sold, at least 99.5 and 99 %, from memory.
/// Others are sold by weight, and one does not know their volume without their density.
const BY_VOLUME: &[(&str, &str, u32)] =
    &[("acetic-acid", "glacial", 9950), ("isopropyl-alcohol", "anhydrous", 9900)];

impl Ingredient {
    /// Whether its percentages may be crossed by volume: so much of a strong one is so much more of a weak one.
    #[must_use]
    pub fn is_by_volume(&self) -> bool {
        BY_VOLUME.iter().any(|(name, ..)| *name == self.name)
    }

    /// How strong it is, in hundredths of a percent, where a recipe writes that word in place of a percentage.
    #[must_use]
    pub fn strength_of(&self, word: &str) -> Option<u32> {
        let row = BY_VOLUME.iter().find(|(name, known, _)| *name == self.name && *known == word);
        row.map(|(_, _, strength)| *strength)
    }
}

impl Held {
    /// An ingredient whose strength nobody says.
    #[must_use]
    pub fn unsaid(ingredient: &'static Ingredient) -> Held {
        Held { ingredient, strength: Strength::Unsaid }
    }

    /// The statements on its label at that strength.
    #[must_use]
    pub fn hazards(&self) -> &'static [&'static Hazard] {
        match (self.limits(), self.strength) {
            (Some(limits), Strength::Of(strength)) => {
                limits.iter().find(|(from, _)| *from <= strength).map_or(&[], |(_, hazards)| hazards)
            }
            (Some(_) | None, Strength::Unsaid) | (None, Strength::Of(_)) => self.ingredient.hazards,
        }
    }

    /// Whether its statements depend on its strength.
    #[must_use]
    pub fn is_by_strength(&self) -> bool {
        self.limits().is_some()
    }

    fn limits(&self) -> Option<Limits> {
        LIMITS.iter().find(|(name, _)| *name == self.ingredient.name).map(|(_, limits)| *limits)
    }
}
