//! What a label tells a person to do: the precautionary statements of the Globally Harmonized System, and which
//! hazard statement calls for which.
//!
//! Those that keep harm off and those for when it has happened. How a product is stored and thrown away is left to
//! its own data sheet and the local code; what is for a works and its fire brigade, such as P240 and P370+P378,
//! and P321, which sends one back to the label, are left out.

use super::hazard::{
    H225, H226, H228, H272, H290, H300, H301, H302, H311, H312, H314, H315, H317, H318, H319, H330, H331,
    H332, H334, H335, H336, H340, H341, H350, H351, H360FD, H361d, H372, H373, H400, H410, H411, H412,
    Hazard,
};
use super::strength::Held;

/// One precautionary statement.
#[derive(Debug, PartialEq, Eq)]
pub struct Statement {
    /// The code on the label, such as `P280` or `P305+P351+P338`.
    pub code: &'static str,
    /// What the code says; it begins with a small letter.
    pub text: &'static str,
}

/// Where texts and assignments were read.
pub const STATEMENTS_SOURCE: &str = "GHS, Annex 3, in the codes that hold up to its eighth revision, worded as \
     in Regulation (EC) 1272/2008; what calls for which agrees with supplier data sheets of acids, \
     permanganate and a thiocyanate, and is from memory beyond them";

const fn row(code: &'static str, text: &'static str) -> Statement {
    Statement { code, text }
}

/// Every statement known here, in the order of the codes.
pub const STATEMENTS: &[Statement] = &[
    row("P201", "obtain special instructions before use"),
    row("P202", "do not handle until all safety precautions have been read and understood"),
    row(
        "P210",
        "keep away from heat, hot surfaces, sparks, open flames and other ignition sources; no smoking",
    ),
    row("P220", "keep away from clothing and other combustible materials"),
    row("P234", "keep only in original packaging"),
    row("P260", "do not breathe dust, fume, gas, mist, vapours or spray"),
    row("P261", "avoid breathing dust, fume, gas, mist, vapours or spray"),
    row("P264", "wash hands thoroughly after handling"),
    row("P270", "do not eat, drink or smoke when using this product"),
    row("P271", "use only outdoors or in a well-ventilated area"),
    row("P272", "contaminated work clothing should not be allowed out of the workplace"),
    row("P273", "avoid release to the environment"),
    row("P280", "wear protective gloves, protective clothing, eye protection and face protection"),
    row("P284", "wear respiratory protection"),
    row("P301+P310", "if swallowed: immediately call a poison centre or a doctor"),
    row("P301+P312", "if swallowed: call a poison centre or a doctor if you feel unwell"),
    row("P301+P330+P331", "if swallowed: rinse mouth; do not induce vomiting"),
    row("P302+P352", "if on skin: wash with plenty of water"),
    row(
        "P303+P361+P353",
        "if on skin or hair: take off immediately all contaminated clothing; rinse skin with water",
    ),
    row("P304+P340", "if inhaled: remove person to fresh air and keep comfortable for breathing"),
    row(
        "P305+P351+P338",
        "if in eyes: rinse cautiously with water for several minutes; remove contact lenses, if present and \
         easy to do; continue rinsing",
    ),
    row("P308+P313", "if exposed or concerned: get medical advice"),
    row("P310", "immediately call a poison centre or a doctor"),
    row("P311", "call a poison centre or a doctor"),
    row("P312", "call a poison centre or a doctor if you feel unwell"),
    row("P314", "get medical advice if you feel unwell"),
    row("P330", "rinse mouth"),
    row("P332+P313", "if skin irritation occurs: get medical advice"),
    row("P333+P313", "if skin irritation or rash occurs: get medical advice"),
    row("P337+P313", "if eye irritation persists: get medical advice"),
    row("P342+P311", "if experiencing respiratory symptoms: call a poison centre or a doctor"),
    row("P361+P364", "take off immediately all contaminated clothing and wash it before reuse"),
    row("P362+P364", "take off contaminated clothing and wash it before reuse"),
    row("P363", "wash contaminated clothing before reuse"),
    row("P390", "absorb spillage to prevent material damage"),
    row("P391", "collect spillage"),
];

const SWALLOWED: &[&str] = &["P264", "P270", "P301+P310", "P330"];
const INHALED: &[&str] = &["P261", "P271", "P304+P340", "P312"];
const LASTING: &[&str] = &["P201", "P202", "P280", "P308+P313"];
const FLAMMABLE: &[&str] = &["P210", "P280"];
const WATERS: &[&str] = &["P273", "P391"];

/// Which statements a hazard calls for. The European Union's own EUH statements call for none.
const CALLED_FOR: &[(&Hazard, &[&str])] = &[
    (H225, FLAMMABLE),
    (H226, FLAMMABLE),
    (H228, FLAMMABLE),
    (H272, &["P210", "P220", "P280"]),
    (H290, &["P234", "P390"]),
    (H300, SWALLOWED),
    (H301, SWALLOWED),
    (H302, &["P264", "P270", "P301+P312", "P330"]),
    (H311, &["P280", "P302+P352", "P312", "P361+P364"]),
    (H312, &["P280", "P302+P352", "P312", "P362+P364"]),
    (
        H314,
        &[
            "P260",
            "P264",
            "P280",
            "P301+P330+P331",
            "P303+P361+P353",
            "P304+P340",
            "P305+P351+P338",
            "P310",
            "P363",
        ],
    ),
    (H315, &["P264", "P280", "P302+P352", "P332+P313", "P362+P364"]),
    (H317, &["P261", "P272", "P280", "P302+P352", "P333+P313", "P362+P364"]),
    (H318, &["P280", "P305+P351+P338", "P310"]),
    (H319, &["P264", "P280", "P305+P351+P338", "P337+P313"]),
    (H330, &["P260", "P271", "P284", "P304+P340", "P310"]),
    (H331, &["P261", "P271", "P304+P340", "P311"]),
    (H332, INHALED),
    (H334, &["P261", "P284", "P304+P340", "P342+P311"]),
    (H335, INHALED),
    (H336, INHALED),
    (H340, LASTING),
    (H341, LASTING),
    (H350, LASTING),
    (H351, LASTING),
    (H360FD, LASTING),
    (H361d, LASTING),
    (H372, &["P260", "P264", "P270", "P314"]),
    (H373, &["P260", "P314"]),
    (H400, WATERS),
    (H410, WATERS),
    (H411, WATERS),
    (H412, &["P273"]),
];

/// Statements that go without saying beside another: each after that.
const GOES_WITHOUT: &[(&str, &str)] = &[
    ("P260", "P261"),
    ("P301+P310", "P301+P312"),
    ("P310", "P311"),
    ("P310", "P312"),
    ("P311", "P312"),
    ("P333+P313", "P332+P313"),
    ("P361+P364", "P362+P364"),
];

impl Held {
    /// The precautionary statements that its hazards call for at its strength, in the order of the codes.
    #[must_use]
    pub fn statements(&self) -> Vec<&'static Statement> {
        let rows = CALLED_FOR.iter().filter(|(hazard, _)| self.hazards().contains(hazard));
        let codes: Vec<&str> = rows.flat_map(|(_, codes)| codes.iter().copied()).collect();
        let said =
            |code: &str| GOES_WITHOUT.iter().any(|(other, lesser)| *lesser == code && codes.contains(other));
        STATEMENTS.iter().filter(|one| codes.contains(&one.code) && !said(one.code)).collect()
    }
}
