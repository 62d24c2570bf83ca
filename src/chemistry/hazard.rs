//! Hazard statements of the United Nations' Globally Harmonized System (GHS), and EUH statements of the European Union.
#![expect(non_upper_case_globals, reason = "the small letter of a code such as H361d is part of it")]

/// A hazard statement.
#[derive(Debug, PartialEq, Eq)]
pub struct Hazard {
    /// The code on the label, such as `H317`.
    pub code: &'static str,
    /// The official text, in lower case.
    pub text: &'static str,
    /// The signal word on the label.
    pub signal: Signal,
    /// The words on a card: a beginning that several statements share, and the rest. Both are empty for EUH208,
    /// which names its substances.
    pub brief: (&'static str, &'static str),
}

/// The signal word of a label. The signal word of each statement should agree with the GHS, Annex 3, which was not
/// looked up.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Signal {
    /// The label has no signal word.
    None,
    /// The signal word for the lesser hazards.
    Warning,
    /// The signal word for the greater hazards.
    Danger,
}

/// Each hazard statement with the milder statements that it includes.
pub const SAID_BY: &[(&Hazard, &[&Hazard])] = &[
    (H300, &[H301, H302]),
    (H301, &[H302]),
    (H310, &[H311, H312]),
    (H311, &[H312]),
    (H314, &[H315, H318, H319]),
    (H318, &[H319]),
    (H330, &[H331, H332]),
    (H331, &[H332]),
    (H225, &[H226]),
    (H271, &[H272]),
    (H340, &[H341]),
    (H350, &[H351]),
    (H360FD, &[H361d, H361f]),
    (H370, &[H371]),
    (H372, &[H373]),
    (H410, &[H400]),
];

/// Makes a constant for each statement, so that an ingredient cannot have an unknown code. A row has the code, the
/// signal word and the two parts of `brief`, then the official text if it differs from them.
macro_rules! hazards {
    ($($code:ident $signal:ident $lead:literal $rest:literal $(= $text:literal)?)*) => {
        $(pub(super) const $code: &Hazard = &Hazard {
            code: stringify!($code),
            text: hazards!(@text $lead $rest $($text)?),
            signal: Signal::$signal,
            brief: ($lead, $rest),
        };)*

        /// All statements, the most severe first, in the order of a card.
        pub const HAZARDS: &[&Hazard] = &[$($code),*];
    };
    (@text $lead:literal $rest:literal) => { concat!($lead, " ", $rest) };
    (@text $lead:literal $rest:literal $text:literal) => { $text };
}

hazards! {
    // Fatal and toxic.
    H300   Danger  "fatal" "if swallowed"
    H310   Danger  "fatal" "in contact with skin"
    H330   Danger  "fatal" "if inhaled"
    EUH032 None    "acid frees a very toxic gas from it" ""
        = "contact with acids liberates very toxic gas"
    H301   Danger  "toxic" "if swallowed"
    H311   Danger  "toxic" "in contact with skin"
    H331   Danger  "toxic" "if inhaled"
    EUH071 None    "burns the airways" ""
        = "corrosive to the respiratory tract"
    EUH031 None    "acid frees a toxic gas from it" ""
        = "contact with acids liberates toxic gas"

    // Lasting harm.
    H350   Danger  "may cause" "cancer"
    H340   Danger  "may cause" "genetic defects"
    H360FD Danger  "may damage" "fertility and the unborn child"
        = "may damage fertility; may damage the unborn child"
    H370   Danger  "damages organs" ""
        = "causes damage to organs"
    H372   Danger  "damages organs on repeated exposure" ""
        = "causes damage to organs through prolonged or repeated exposure"
    H314   Danger  "causes" "severe skin burns and eye damage"
    H318   Danger  "causes" "serious eye damage"
    H334   Danger  "may cause" "allergy or asthma if inhaled"
        = "may cause allergy or asthma symptoms or breathing difficulties if inhaled"
    H317   Warning "may cause" "an allergic skin reaction"
    H351   Warning "suspected of causing" "cancer"
    H341   Warning "suspected of causing" "genetic defects"
    H361d  Warning "suspected of damaging" "the unborn child"
    H361f  Warning "suspected of damaging" "fertility"
    H371   Warning "may damage" "organs"
        = "may cause damage to organs"
    H373   Warning "may damage" "organs on repeated exposure"
        = "may cause damage to organs through prolonged or repeated exposure"

    // Fire.
    H271   Danger  "sets fire to what burns, keep it off" ""
        = "may cause fire or explosion; strong oxidiser"
    H272   Danger  "oxidiser, keep it off all that burns" ""
        = "may intensify fire; oxidiser"
    H225   Danger  "highly flammable, no flames" ""
        = "highly flammable liquid and vapour"
    H226   Warning "flammable, no flames" ""
        = "flammable liquid and vapour"
    H228   Warning "flammable solid, no flames" ""
        = "flammable solid"
    H251   Danger  "heats itself and can catch fire" ""
        = "self-heating; may catch fire"

    // Temporary harm.
    H302   Warning "harmful" "if swallowed"
    H312   Warning "harmful" "in contact with skin"
    H332   Warning "harmful" "if inhaled"
    H319   Warning "causes" "serious eye irritation"
    H315   Warning "causes" "skin irritation"
    H335   Warning "may cause" "respiratory irritation"
    H336   Warning "may cause" "drowsiness or dizziness"
    EUH066 None    "dries and cracks skin on repeated contact" ""
        = "repeated exposure may cause skin dryness or cracking"
    EUH208 None    "" ""
        = "may produce an allergic reaction"

    // Harm to metals and waters.
    H290   Warning "corrodes metals" ""
        = "may be corrosive to metals"
    H400   Warning "very toxic to aquatic life" ""
        = "very toxic to aquatic life"
    H410   Warning "very toxic to aquatic life for long" ""
        = "very toxic to aquatic life with long lasting effects"
    H411   None    "toxic to aquatic life for long" ""
        = "toxic to aquatic life with long lasting effects"
    H412   None    "harmful to aquatic life for long" ""
        = "harmful to aquatic life with long lasting effects"
    H413   None    "may harm aquatic life for long" ""
        = "may cause long lasting harmful effects to aquatic life"
}
