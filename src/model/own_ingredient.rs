//! An ingredient that a file declares, because the table of ingredients lacks it.

use super::quantity::Number;
use crate::chemistry::Hazard;

/// An ingredient that a file declares.
#[derive(Debug, Clone)]
pub struct OwnIngredient {
    /// The ingredient's name.
    pub name: String,
    /// The ingredient's title, or else the name.
    pub title: String,
    /// The CAS number.
    pub cas: Option<String>,
    /// The grams in a mole.
    pub molar_mass: Option<Number>,
    /// The hazard statements; `None` if they are not known.
    pub hazards: Option<Vec<&'static Hazard>>,
    /// The ingredient's cautions.
    pub cautions: Vec<String>,
}

impl OwnIngredient {
    /// What the hazards say, as a caution; `None` for a harmless ingredient.
    pub fn caution(&self) -> Option<String> {
        let cas = self.cas.as_ref().map(|cas| format!(" (CAS {cas})")).unwrap_or_default();
        let says = match &self.hazards {
            None => {
                "its hazards are not known, so handle it as harmful: gloves, goggles and no dust".to_owned()
            }
            Some(none) if none.is_empty() => return None,
            Some(hazards) => {
                let texts: Vec<String> =
                    hazards.iter().map(|hazard| format!("{} ({})", hazard.text, hazard.code)).collect();
                texts.join("; ")
            }
        };
        Some(format!("{}{cas}: {says}", self.title))
    }
}
