//! Chemicals that must not meet.

use super::ingredient::Ingredient;

/// Two groups of ingredients that must not meet.
#[derive(Debug, PartialEq, Eq)]
pub struct Pair {
    /// The names of the ingredients in the first group.
    pub one: &'static [&'static str],
    /// The names of the ingredients in the second group.
    pub other: &'static [&'static str],
    /// What happens when the groups meet.
    pub comes: &'static str,
    /// From this many grams in a litre of each group, it is an error to have both groups in one vessel. `None` if it is
    /// never an error, because published baths have both groups.
    pub in_one_vessel: Option<u32>,
    /// The texts of the short warning: a name for the first group, a name for the second group, and what happens. If
    /// no bottle holds the first group, its name is written; if that name is empty, there is no warning. If the name of
    /// the second group is empty, the warning names the bottles that hold it. `None` if there is no short warning.
    pub short: Option<(&'static str, &'static str, &'static str)>,
    /// The words that a label uses for the first group, and those for the second group.
    pub on_label: (&'static [&'static str], &'static [&'static str]),
    /// The source of the pair.
    pub source: &'static str,
}

/// A bath with one of these ingredients counts as corrosive to skin until its pH is stated. Common practice, no source.
pub const BURNING_BY_PH: &[&str] =
    &["hydrochloric-acid", "potassium-hydroxide", "sodium-bisulfate", "sodium-hydroxide", "sulfuric-acid"];

const STRONG_ACIDS: &[&str] = &["hydrochloric-acid", "sodium-bisulfate", "sulfuric-acid"];
/// Acids that a bottle can hold strong enough to free gas.
pub const ACIDS: &[&str] =
    &["acetic-acid", "citric-acid", "hydrochloric-acid", "sodium-bisulfate", "sulfuric-acid"];
const CYANIDES: &[&str] = &["potassium-ferricyanide", "potassium-thiocyanate", "sodium-thiocyanate"];
const STRONG_OXIDISERS: &[&str] = &["potassium-dichromate", "potassium-permanganate"];
/// Oxidisers: ingredients that feed fire.
pub const OXIDISERS: &[&str] =
    &["ammonium-persulfate", "hydrogen-peroxide", "potassium-dichromate", "potassium-permanganate"];
/// Salts that free sulfur dioxide if they meet acid.
pub(super) const SULFITES: &[&str] = &[
    "ammonium-thiosulfate",
    "potassium-metabisulfite",
    "sodium-bisulfite",
    "sodium-metabisulfite",
    "sodium-sulfite",
    "sodium-thiosulfate",
];
const AMMONIA: &[&str] = &["ammonia", "ammonium-chloride", "ammonium-persulfate", "ammonium-thiosulfate"];
/// Organic liquids and powders that an oxidiser sets on fire, or destroys with violent heat.
pub(super) const ORGANIC: &[&str] = &[
    "amidol",
    "ascorbic-acid",
    "catechol",
    "colour-developing-agent",
    "formaldehyde",
    "glycin",
    "hydroquinone",
    "isopropyl-alcohol",
    "metol",
    "p-aminophenol-hydrochloride",
    "p-phenylenediamine",
    "phenidone",
    "pyrogallol",
    "wetting-surfactant",
];

/// All pairs of groups that must not meet, the deadliest first.
pub const PAIRS: &[Pair] = &[
    Pair {
        one: STRONG_ACIDS,
        other: CYANIDES,
        comes: "frees hydrogen cyanide, a deadly gas",
        in_one_vessel: Some(1),
        short: Some(("acid", "", "deadly gas")),
        on_label: (&["acid"], &["thiocyanate", "ferricyanide"]),
        source: "International Chemical Safety Card ICSC 1132; EUH032 of the thiocyanates in Annex VI of Regulation \
                 (EC) 1272/2008",
    },
    Pair {
        one: ACIDS,
        other: &["sodium-sulfide"],
        comes: "frees hydrogen sulfide, a deadly gas",
        in_one_vessel: Some(1),
        short: Some(("acid", "", "deadly gas")),
        on_label: (&["acid"], &["sulfide"]),
        source: "40 CFR 264, appendix V: groups 1-B and 5-A; the gas from memory",
    },
    Pair {
        one: ACIDS,
        other: &["sodium-selenite"],
        comes: "frees a toxic gas of selenium",
        in_one_vessel: Some(1),
        short: Some(("acid", "", "toxic gas")),
        on_label: (&["acid"], &["selenite"]),
        source: "EUH031 of sodium selenite in Annex VI of Regulation (EC) 1272/2008; the gas from memory",
    },
    Pair {
        one: ACIDS,
        other: &["sodium-hypochlorite"],
        comes: "frees chlorine, a toxic gas",
        in_one_vessel: Some(1),
        short: Some(("acid", "", "chlorine")),
        on_label: (&["acid"], &["hypochlorite"]),
        source: "EUH031 of sodium hypochlorite in Annex VI of Regulation (EC) 1272/2008",
    },
    Pair {
        one: AMMONIA,
        other: &["sodium-hypochlorite"],
        comes: "frees chloramines and chlorine, toxic gases",
        in_one_vessel: Some(1),
        short: Some(("ammonia", "", "chlorine")),
        on_label: (&["ammonia"], &["hypochlorite"]),
        source: "a university's office of environmental health and safety",
    },
    Pair {
        one: STRONG_OXIDISERS,
        other: &["ammonium-thiosulfate", "formaldehyde", "isopropyl-alcohol", "sodium-thiosulfate"],
        comes: "heats up, spits and can catch fire",
        in_one_vessel: Some(1),
        short: Some(("", "developer, fixer, alcohol", "fire")),
        on_label: (&["bleach"], &["fixer", "alcohol", "formaldehyde"]),
        source: "US EPA, A Method for Determining the Compatibility of Hazardous Wastes, EPA-600/2-80-076, 1980, \
                 strong oxidising agents with alcohols and aldehydes, read in a copy of its chart; with thiosulfate, \
                 from memory",
    },
    Pair {
        one: &["potassium-permanganate"],
        other: SULFITES,
        comes: "heats up and spits",
        in_one_vessel: Some(1),
        short: None,
        on_label: (&["bleach"], &["developer", "fixer", "sulfite"]),
        source: "US EPA, A Method for Determining the Compatibility of Hazardous Wastes, EPA-600/2-80-076, 1980, \
                 strong oxidising agents with reducing agents, from memory",
    },
    Pair {
        one: OXIDISERS,
        other: ORGANIC,
        comes: "heats up and can catch fire",
        in_one_vessel: None,
        short: Some(("", "developer, fixer, alcohol", "fire")),
        on_label: (&["bleach"], &["developer", "alcohol"]),
        source: "US EPA, A Method for Determining the Compatibility of Hazardous Wastes, EPA-600/2-80-076, 1980, \
                 strong oxidising agents with alcohols, aldehydes, amines and phenols, read in a copy of its chart",
    },
    // Published acid fixers and bleach-fixes hold both groups.
    Pair {
        one: ACIDS,
        other: SULFITES,
        comes: "frees sulfur dioxide, a choking gas",
        in_one_vessel: None,
        short: Some(("acid", "", "choking gas")),
        on_label: (&["acid"], &["developer", "fixer", "sulfite"]),
        source: "EUH031 of the bisulfites in Annex VI of Regulation (EC) 1272/2008; International Chemical \
                 Safety Card ICSC 1134",
    },
];

impl Ingredient {
    /// Whether the ingredient is in this group.
    pub fn is_one_of(&self, group: &[&str]) -> bool {
        group.contains(&self.name)
    }
}
