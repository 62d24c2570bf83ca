//! What a card says of the chemicals on it, each thing once.
//!
//! First the hazard statements with the ingredients they apply to, then what a person does about them. A card
//! is read with wet hands: lines are short, and what does not concern tonight's ingredients is not printed.

use std::collections::BTreeMap;

use super::hazard::{
    EUH031, EUH032, H225, H226, H228, H272, H311, H312, H314, H315, H317, H318, H319, H330, H331, H332, H334,
    H335, H336, H340, H341, H350, H351, H360FD, H361d, H400, H410, H411, H412, HAZARDS, Hazard,
};
use super::ingredient::Ingredient;

/// Something to do or to leave, for the sake of certain hazards or certain ingredients.
#[derive(Debug, PartialEq, Eq)]
pub struct Precaution {
    /// What to do, in one line of a card.
    pub text: &'static str,
    /// The hazard statements that call for it.
    pub hazards: &'static [&'static Hazard],
    /// The ingredients that call for it, whatever their statements are.
    pub ingredients: &'static [&'static str],
    /// Where the advice was read; 'common practice, no source' where it was not.
    pub source: &'static str,
}

impl Precaution {
    fn concerns(&self, held: &Ingredient) -> bool {
        self.ingredients.contains(&held.name) || held.hazards.iter().any(|shown| self.hazards.contains(shown))
    }
}

/// What holds for any chemical, also for one of which nothing is known here.
///
/// That nothing is tasted is in NAVEDTRA 14209, Photography (Basic); the rest is common practice, no source.
pub const GENERAL: &[&str] = &[
    "use nothing that holds or has held food or drink; taste nothing",
    "label every bottle, with its date, and keep it from children",
];

/// Every precaution known here, in the order in which a card prints them.
pub const PRECAUTIONS: &[Precaution] = &[
    Precaution {
        text: "acid goes into water, slowly and stirring; never water into acid",
        hazards: &[],
        ingredients: &["acetic-acid", "sulfuric-acid"],
        source: "T.O. 33B-1-1, Nondestructive Inspection Methods, ch. 6",
    },
    Precaution {
        text: "hydroxide goes into cold water, a little at a time: it heats and spits",
        hazards: &[],
        ingredients: &["potassium-hydroxide", "sodium-hydroxide"],
        source: "common practice, no source",
    },
    Precaution {
        text: "keep acid, and vessels that held it, away from what frees gas with it",
        hazards: &[EUH032],
        ingredients: &["sodium-selenite"],
        source: "ICSC 1132",
    },
    Precaution {
        text: "wear gloves, an apron and eye protection",
        hazards: &[H311, H312, H314, H315, H317, H318, H319, H340, H341, H350, H351],
        ingredients: &[],
        source: "NAVEDTRA 14209, Photography (Basic)",
    },
    Precaution {
        text: "breathe no dust and no vapour: weigh and mix where air is drawn away",
        hazards: &[EUH031, EUH032, H330, H331, H332, H334, H335, H336, H340, H341, H350, H351],
        ingredients: &["acetic-acid"],
        source: "T.O. 33B-1-1, Nondestructive Inspection Methods, ch. 6",
    },
    Precaution {
        text: "acid frees sulfur dioxide from sulfites and thiosulfates: ventilate",
        hazards: &[],
        ingredients: &[
            "ammonium-thiosulfate",
            "potassium-metabisulfite",
            "sodium-bisulfite",
            "sodium-metabisulfite",
            "sodium-sulfite",
            "sodium-thiosulfate",
        ],
        source: "ICSC 1134; supplier data sheet of sodium thiosulfate",
    },
    Precaution {
        text: "when pregnant, or perhaps so, handle only after medical advice",
        hazards: &[H360FD, H361d],
        ingredients: &[],
        source: "common practice, no source",
    },
    Precaution {
        text: "keep away from flames, sparks and heaters",
        hazards: &[H225, H226, H228],
        ingredients: &[],
        source: "common practice, no source",
    },
    Precaution {
        text: "keep oxidisers off paper, cloth, wood and all else that burns",
        hazards: &[H272],
        ingredients: &[],
        source: "common practice, no source",
    },
    Precaution {
        text: "spent fixer holds silver: collect it, and pour none away unasked",
        hazards: &[],
        ingredients: &["ammonium-thiosulfate", "sodium-thiosulfate"],
        source: "40 CFR 261.24, code D011: 5.0 mg/l of silver",
    },
    Precaution {
        text: "ask the local sewer authority before any of it goes down a drain",
        hazards: &[H400, H410, H411, H412],
        ingredients: &[],
        source: "common practice, no source",
    },
];

/// The cautions for a card on which `ingredients` stand, one to a line and none twice.
///
/// The statements come first, the most severe at the head, each with the names it applies to in alphabetical
/// order; then the precautions they call for; then what holds for any chemical, which is said even of none.
pub fn cautions(ingredients: impl IntoIterator<Item = &'static Ingredient>) -> Vec<String> {
    let held: BTreeMap<&str, &Ingredient> = ingredients.into_iter().map(|each| (each.name, each)).collect();
    let statements = HAZARDS.iter().filter_map(|hazard| {
        let bearers = held.values().filter(|each| each.hazards.contains(hazard));
        let names: Vec<&str> = bearers.map(|each| each.name).collect();
        (!names.is_empty()).then(|| format!("{} ({}): {}", hazard.text, hazard.code, names.join(", ")))
    });
    let called_for =
        PRECAUTIONS.iter().filter(|precaution| held.values().any(|each| precaution.concerns(each)));
    let precautions = called_for.map(|precaution| precaution.text);
    let advice = precautions.chain(GENERAL.iter().copied()).map(str::to_owned);
    statements.chain(advice).collect()
}
