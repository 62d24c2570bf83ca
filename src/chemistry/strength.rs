//! The hazards of an ingredient at its strength, and the precautionary statements for these hazards.

use super::caution::Concern;
use super::entry::{ENTRIES_SOURCE, Entry};
use super::hazard::*;
use super::ingredient::Ingredient;
use super::mixture::{Mixture, Portion};
use super::percent::Percent;

use crate::source::Sorted as _;

/// An ingredient of a solution, at the strength in which it is handled.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Held {
    /// The ingredient, from the table of ingredients.
    pub ingredient: &'static Ingredient,
    /// The strength in hundredths of a percent. `None` counts as the greatest strength.
    pub strength: Option<u32>,
}

/// The least share, in thousandths of a percent, from which an acid counts as corrosive to metals. No source
/// looked up.
const CORRODES: u32 = 1_000;

/// Ingredients whose percentages can be by volume, each with the word for its strength as sold, and that strength in
/// hundredths of a percent (no source looked up).
const BY_VOLUME: &[(&str, &str, u32)] =
    &[("acetic-acid", "glacial", 9950), ("isopropyl-alcohol", "anhydrous", 9900)];

impl Ingredient {
    /// Whether percentages of the ingredient can be calculated by volume.
    pub fn is_by_volume(&self) -> bool {
        BY_VOLUME.iter().any(|(name, ..)| *name == self.name)
    }

    /// The strength of a word such as `glacial`, in hundredths of a percent.
    pub fn strength_of(&self, word: &str) -> Option<u32> {
        let row = BY_VOLUME.iter().find(|(name, known, _)| *name == self.name && *known == word);
        row.map(|(_, _, strength)| *strength)
    }
}

impl Held {
    /// The hazard statements at this strength: those of a mixture of the ingredient and water if the ingredient's entry
    /// has limits of its own, else those of the ingredient.
    pub fn hazards(&self) -> Vec<&'static Hazard> {
        let entry = Entry::of(self.ingredient);
        let Some(strength) = self.strength.filter(|_| !entry.limits.is_empty()) else {
            return self.ingredient.hazards.to_vec();
        };
        let share = Percent::thousandths(strength.saturating_mul(10));
        let portion = Portion::new(self.ingredient.name, entry, share);
        let mixed = Mixture { portions: vec![portion], ..Mixture::default() }.class().hazards;
        // The calculation for mixtures does not find corrosion of metals (H290) and flammability (H226), but this
        // ingredient has them from a known share.
        let has = |hazard: &Hazard, from: u32| {
            self.ingredient.hazards.contains(&hazard) && Percent::thousandths(from) <= share
        };
        let burns = entry.limits.iter().find(|(of, _)| *of == H226).map_or(0, |(_, from)| *from);
        let of_itself = |hazard: &&&Hazard| {
            mixed.contains(hazard)
                || **hazard == H290 && has(H290, CORRODES)
                || **hazard == H226 && has(H226, burns)
        };
        HAZARDS.iter().filter(of_itself).filter(|hazard| **hazard != EUH208).copied().collect()
    }

    /// The source of the statements at this strength.
    pub fn source(&self) -> String {
        let own = self.ingredient.source;
        match self.strength {
            Some(_) if !Entry::of(self.ingredient).limits.is_empty() => {
                format!("{ENTRIES_SOURCE}, with its limits by strength; of the ingredient itself: {own}")
            }
            _ => own.to_owned(),
        }
    }

    /// The precautionary statements for the hazards at this strength, in the order of the codes.
    pub fn statements(&self) -> Vec<&'static Statement> {
        statements_for(&self.hazards())
    }
}

/// The precautionary statements for these hazards, in the order of the codes.
pub fn statements_for(stated: &[&Hazard]) -> Vec<&'static Statement> {
    let called_for = |hazards: &[&Hazard]| hazards.iter().any(|one| stated.contains(one));
    let rows = CALLED_FOR.iter().filter(|(hazards, _)| called_for(hazards));
    let codes: Vec<&str> = rows.flat_map(|(_, codes)| codes.split(' ')).collect();
    let said = |code: &str| INCLUDES.iter().any(|(other, lesser)| *lesser == code && codes.contains(other));
    STATEMENTS.iter().filter(|(code, _)| codes.contains(code) && !said(code)).collect()
}

/// A precautionary statement of the GHS: its code, such as `P280` or `P305+P351+P338`, and its text in lower case.
///
/// [`STATEMENTS`] lacks the statements on storage and disposal, those for industrial sites (P240, P370+P378), and P321,
/// which refers to the label.
pub type Statement = (&'static str, &'static str);

/// The source of the texts, and of the table that says which hazard needs which text.
pub const STATEMENTS_SOURCE: &str = "GHS, Annex 3, in the codes that hold up to its eighth revision, worded as \
     in Regulation (EC) 1272/2008; what calls for which agrees with suppliers of acids, \
     permanganate and a thiocyanate, and is from memory beyond them";

/// All statements, in the order of the codes.
pub const STATEMENTS: &[Statement] = &[
    ("P201", "obtain special instructions before use"),
    ("P202", "do not handle until all safety precautions have been read and understood"),
    ("P210", "keep away from heat, hot surfaces, sparks, open flames and other ignition sources; no smoking"),
    ("P220", "keep away from clothing and other combustible materials"),
    ("P234", "keep only in original packaging"),
    ("P260", "do not breathe dust, fume, gas, mist, vapours or spray"),
    ("P261", "avoid breathing dust, fume, gas, mist, vapours or spray"),
    ("P264", "wash hands thoroughly after handling"),
    ("P270", "do not eat, drink or smoke when using this product"),
    ("P271", "use only outdoors or in a well-ventilated area"),
    ("P272", "contaminated work clothing should not be allowed out of the workplace"),
    ("P273", "avoid release to the environment"),
    ("P280", "wear protective gloves, protective clothing, eye protection and face protection"),
    ("P284", "wear respiratory protection"),
    ("P301+P310", "if swallowed: immediately call a poison centre or a doctor"),
    ("P301+P312", "if swallowed: call a poison centre or a doctor if you feel unwell"),
    ("P301+P330+P331", "if swallowed: rinse mouth; do not induce vomiting"),
    ("P302+P352", "if on skin: wash with plenty of water"),
    (
        "P303+P361+P353",
        "if on skin or hair: take off immediately all contaminated clothing; rinse skin with water",
    ),
    ("P304+P340", "if inhaled: remove person to fresh air and keep comfortable for breathing"),
    (
        "P305+P351+P338",
        "if in eyes: rinse cautiously with water for several minutes; remove contact lenses, if present and \
         easy to do; continue rinsing",
    ),
    ("P308+P311", "if exposed or concerned: call a poison centre or a doctor"),
    ("P308+P313", "if exposed or concerned: get medical advice"),
    ("P310", "immediately call a poison centre or a doctor"),
    ("P311", "call a poison centre or a doctor"),
    ("P312", "call a poison centre or a doctor if you feel unwell"),
    ("P314", "get medical advice if you feel unwell"),
    ("P330", "rinse mouth"),
    ("P332+P313", "if skin irritation occurs: get medical advice"),
    ("P333+P313", "if skin irritation or rash occurs: get medical advice"),
    ("P337+P313", "if eye irritation persists: get medical advice"),
    ("P342+P311", "if experiencing respiratory symptoms: call a poison centre or a doctor"),
    ("P361+P364", "take off immediately all contaminated clothing and wash it before reuse"),
    ("P362+P364", "take off contaminated clothing and wash it before reuse"),
    ("P363", "wash contaminated clothing before reuse"),
    ("P390", "absorb spillage to prevent material damage"),
    ("P391", "collect spillage"),
];

/// The codes of the precautionary statements that hazard statements require. EUH statements require none.
const CALLED_FOR: &[(&[&Hazard], &str)] = &[
    (&[H225, H226, H228], "P210 P280"),
    (&[H271, H272], "P210 P220 P280"),
    (&[H290], "P234 P390"),
    (&[H300, H301], "P264 P270 P301+P310 P330"),
    (&[H302], "P264 P270 P301+P312 P330"),
    (&[H310], "P264 P270 P280 P302+P352 P310 P361+P364"),
    (&[H311], "P280 P302+P352 P312 P361+P364"),
    (&[H312], "P280 P302+P352 P312 P362+P364"),
    (&[H314], "P260 P264 P280 P301+P330+P331 P303+P361+P353 P304+P340 P305+P351+P338 P310 P363"),
    (&[H315], "P264 P280 P302+P352 P332+P313 P362+P364"),
    (&[H317], "P261 P272 P280 P302+P352 P333+P313 P362+P364"),
    (&[H318], "P280 P305+P351+P338 P310"),
    (&[H319], "P264 P280 P305+P351+P338 P337+P313"),
    (&[H330], "P260 P271 P284 P304+P340 P310"),
    (&[H331], "P261 P271 P304+P340 P311"),
    (&[H332, H335, H336], "P261 P271 P304+P340 P312"),
    (&[H334], "P261 P284 P304+P340 P342+P311"),
    (&[H340, H341, H350, H351, H360FD, H361d, H361f], "P201 P202 P280 P308+P313"),
    (&[H370, H371], "P260 P264 P270 P308+P311"),
    (&[H372], "P260 P264 P270 P314"),
    (&[H373], "P260 P314"),
    (&[H400, H410, H411], "P273 P391"),
    (&[H412], "P273"),
];

/// Pairs of a precautionary statement and a weaker one that it includes.
const INCLUDES: &[(&str, &str)] = &[
    ("P260", "P261"),
    ("P301+P310", "P301+P312"),
    ("P310", "P311"),
    ("P310", "P312"),
    ("P311", "P312"),
    ("P333+P313", "P332+P313"),
    ("P361+P364", "P362+P364"),
];

/// The beginnings of first-aid texts, in the order in which the texts are given. Texts with another beginning come
/// last.
const AID_ORDER: &[&str] = &["if in eyes", "if on skin", "if inhaled", "if swallowed", "rinse mouth"];

/// First aid for the hazards of these solutions, in the Regulation's words: eyes, skin, breath, mouth, then the rest. A
/// bottle that may be corrosive counts as corrosive.
pub fn first_aid(solutions: &[Concern]) -> Vec<String> {
    let mut shown: Vec<&Hazard> = Vec::new();
    for solution in solutions {
        for form in &solution.forms {
            shown.extend(&form.class.hazards);
            shown.extend((form.may_burn || form.needs_ph).then_some(H314));
            shown.extend((!form.class.sensitisers.is_empty()).then_some(H317));
        }
        let weighed = solution.held.iter().filter(|_| solution.is_weighed);
        shown.extend(weighed.flat_map(|held| held.hazards()));
        let declared = solution.own.iter().filter(|_| solution.is_weighed);
        shown.extend(declared.flat_map(|own| own.all_hazards()));
    }
    let rows = CALLED_FOR.iter().filter(|(hazards, _)| hazards.iter().any(|hazard| shown.contains(hazard)));
    let codes: Vec<&str> = rows.flat_map(|(_, codes)| codes.split(' ')).collect();
    let said = |code: &str| INCLUDES.iter().any(|(other, lesser)| *lesser == code && codes.contains(other));
    let aid = |code: &str| ("P301".."P390").contains(&code) && codes.contains(&code) && !said(code);
    let mut texts: Vec<&str> =
        STATEMENTS.iter().filter(|(code, _)| aid(code)).map(|(_, text)| *text).collect();
    let place = |text: &str| AID_ORDER.iter().position(|begins| text.starts_with(begins));
    texts.order_by_key(|text| place(text).unwrap_or(AID_ORDER.len()));
    texts.into_iter().map(str::to_owned).collect()
}
