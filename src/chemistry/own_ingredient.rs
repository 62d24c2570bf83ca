//! An ingredient that a file declares, because the table of ingredients lacks it.

use super::entry::{ENTRIES, Entry, says};
use super::hazard::Hazard;

/// An ingredient that a file declares.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct OwnIngredient {
    /// The ingredient's name.
    pub name: String,
    /// The ingredient's title, or else the name.
    pub title: String,
    /// The ingredient's CAS number, if stated.
    pub cas: Option<String>,
    /// The hazard statements that the file states; `None` if they are not known.
    pub hazards: Option<Vec<&'static Hazard>>,
    /// The ingredient's cautions.
    pub cautions: Vec<String>,
}

impl OwnIngredient {
    /// The entry for calculating the hazards of mixtures: the one in [`ENTRIES`] with this CAS number, or else one
    /// without hazard statements. The hazard statements of the file count in addition.
    pub fn entry(&self) -> Entry {
        let of = |entry: &&Entry| {
            self.cas
                .as_ref()
                .is_some_and(|cas| entry.cas.split(' ').any(|known| !known.is_empty() && known == cas))
        };
        ENTRIES.iter().find(of).copied().unwrap_or(says("", "", &[]))
    }

    /// All hazard statements: those that the recipe's file states for the ingredient, then the others of the
    /// classification of its CAS number.
    pub fn all_hazards(&self) -> Vec<&'static Hazard> {
        let mut all: Vec<&'static Hazard> = self.hazards.clone().unwrap_or_default();
        all.extend(
            self.entry()
                .hazards
                .iter()
                .filter(|hazard| !self.hazards.iter().flatten().any(|own| own == *hazard)),
        );
        all
    }

    /// The caution for an ingredient whose hazards are not known; `None` if they are known, because labels then state
    /// them.
    pub fn caution(&self) -> Option<String> {
        let cas = self.cas.as_ref().map(|cas| format!(" (CAS {cas})")).unwrap_or_default();
        let says = "its hazards are not known, so handle it as harmful: gloves, goggles and no dust";
        self.hazards.is_none().then(|| format!("{}{cas}: {says}", self.title))
    }
}
