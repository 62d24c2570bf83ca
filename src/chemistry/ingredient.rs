//! What a formula may be made of: the states in which each ingredient is sold, and the harm it can do.
//!
//! Water is not among them: it is built into the language. The CAS numbers stand here from memory; each is held by
//! its own check digit.

use super::element::molar_mass;
use super::hazard::{
    EUH031, EUH032, H225, H226, H228, H272, H290, H300, H301, H302, H311, H312, H314, H315, H317, H318, H319,
    H330, H331, H332, H334, H335, H336, H340, H341, H350, H351, H360FD, H361d, H372, H373, H400, H410, H411,
    H412, Hazard,
};

/// A chemical as a recipe names it.
#[derive(Debug, PartialEq, Eq)]
pub struct Ingredient {
    /// The name a recipe writes: small letters, digits and hyphens.
    pub name: &'static str,
    /// Whether it is sold by strength: its amount states a percentage (`28 %`), or a state's word (`glacial`).
    pub strength: bool,
    /// The states in which it is sold, least water first; none for a mixture that has no one formula.
    pub states: &'static [State],
    /// The statements on its label, as sold: at the greatest strength where that varies.
    pub hazards: &'static [&'static Hazard],
    /// Where the statements were read, or that they stand here from memory.
    pub source: &'static str,
}

/// One state of an ingredient: with so much water of crystallisation, or none.
#[derive(Debug, PartialEq, Eq)]
pub struct State {
    /// The word for it in a recipe, such as `decahydrate`; empty where there is but one and nobody names it.
    pub word: &'static str,
    /// Its formula, on one unit of the same salt in all of an ingredient's states, so that their masses compare.
    pub formula: &'static str,
    /// Its number in the register of the Chemical Abstracts Service.
    pub cas: &'static str,
}

impl Ingredient {
    /// The state that a recipe means by `word`; without a word, the only one there is.
    ///
    /// `None` if there is no such state, or if a word (or a strength) is needed to tell which.
    pub fn state(&self, word: Option<&str>) -> Option<&'static State> {
        match (word, self.states) {
            (Some(word), states) => states.iter().find(|state| state.word == word),
            (None, [only]) if !self.strength => Some(only),
            (None, _) => None,
        }
    }
}

impl State {
    /// How many grams of this state hold as much of the salt as one gram of `other` (R10).
    ///
    /// Both must be states of one ingredient. `None` only where a formula cannot be read.
    pub fn in_place_of(&self, other: &State) -> Option<f64> {
        Some(molar_mass(self.formula)? / molar_mass(other.formula)?)
    }
}

/// The ingredient that a recipe calls `name`.
pub fn ingredient(name: &str) -> Option<&'static Ingredient> {
    INGREDIENTS.iter().find(|known| known.name == name)
}

/// Every ingredient known, in the order of their names.
pub fn ingredients() -> &'static [Ingredient] {
    INGREDIENTS
}

const CLP: &str = "CLP harmonised entry, from memory";
const SHEETS: &str = "supplier data sheets, from memory";
const HARMLESS: &str = "not classified, from memory";

/// A row: name, `by strength` where it is sold so, the states [word formula CAS], (hazards), source.
macro_rules! ingredients {
    ($($name:literal $(by $strength:ident)?
       $([$($word:ident)? $formula:literal $cas:literal])* ($($hazard:ident)*) $source:expr;)*) => {
        static INGREDIENTS: &[Ingredient] = &[$(Ingredient {
            name: $name,
            strength: !stringify!($($strength)?).is_empty(),
            states: &[$(State { word: stringify!($($word)?), formula: $formula, cas: $cas }),*],
            hazards: &[$($hazard),*],
            source: $source,
        }),*];
    };
}

ingredients! {
    "acetic-acid" by strength      [glacial "C2H4O2" "64-19-7"]
        (H226 H314)                "H226 read in a government classification; H314 from memory";
    "amidol"                       ["C6H8N2O·2HCl" "137-09-7"]
        (H302 H315 H317 H319)      SHEETS;
    "ammonium-chloride"            ["NH4Cl" "12125-02-9"]
        (H302 H319)                CLP;
    "ammonium-ferric-edta"         ["C10H16FeN3O8" "21265-50-9"]
        ()                         HARMLESS;
    "ammonium-thiosulfate" by strength [crystals "(NH4)2S2O3" "7783-18-8"]
        ()                         HARMLESS;
}
