//! What harm a chemical can do, in the words that are the same on every label.
//!
//! The texts are those of the United Nations' Globally Harmonized System; the EUH statements are the European
//! Union's own. They begin with a small letter, as they stand within a line.
#![expect(non_upper_case_globals, reason = "the small letter of a code such as H361d is part of it")]

/// One hazard statement.
#[derive(Debug, PartialEq, Eq)]
pub struct Hazard {
    /// The code on the label, such as `H317`.
    pub code: &'static str,
    /// What the code says.
    pub text: &'static str,
}

/// The statement that bears `code`, if the table knows it.
pub fn hazard(code: &str) -> Option<&'static Hazard> {
    HAZARDS.iter().copied().find(|known| known.code == code)
}

/// Each statement becomes a name of its own, so that no ingredient can bear a code that is not in the table.
macro_rules! hazards {
    ($($code:ident $text:literal)*) => {
        $(pub(super) const $code: &Hazard = &Hazard { code: stringify!($code), text: $text };)*

        /// Every statement known here, the most severe first: the order in which a card prints them.
        pub const HAZARDS: &[&Hazard] = &[$($code),*];
    };
}

hazards! {
    // What can kill.
    H300   "fatal if swallowed"
    H330   "fatal if inhaled"
    EUH032 "contact with acids liberates very toxic gas"
    H301   "toxic if swallowed"
    H311   "toxic in contact with skin"
    H331   "toxic if inhaled"
    EUH031 "contact with acids liberates toxic gas"

    // What stays.
    H350   "may cause cancer"
    H340   "may cause genetic defects"
    H360FD "may damage fertility; may damage the unborn child"
    H372   "causes damage to organs through prolonged or repeated exposure"
    H314   "causes severe skin burns and eye damage"
    H318   "causes serious eye damage"
    H334   "may cause allergy or asthma symptoms or breathing difficulties if inhaled"
    H317   "may cause an allergic skin reaction"
    H351   "suspected of causing cancer"
    H341   "suspected of causing genetic defects"
    H361d  "suspected of damaging the unborn child"
    H373   "may cause damage to organs through prolonged or repeated exposure"

    // What burns.
    H272   "may intensify fire; oxidiser"
    H225   "highly flammable liquid and vapour"
    H226   "flammable liquid and vapour"
    H228   "flammable solid"

    // What harms and passes.
    H302   "harmful if swallowed"
    H312   "harmful in contact with skin"
    H332   "harmful if inhaled"
    H319   "causes serious eye irritation"
    H315   "causes skin irritation"
    H335   "may cause respiratory irritation"
    H336   "may cause drowsiness or dizziness"

    // What harms the vessel, and the water afterwards.
    H290   "may be corrosive to metals"
    H400   "very toxic to aquatic life"
    H410   "very toxic to aquatic life with long lasting effects"
    H411   "toxic to aquatic life with long lasting effects"
    H412   "harmful to aquatic life with long lasting effects"
}
