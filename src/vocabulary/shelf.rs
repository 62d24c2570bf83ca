//! The statements of films, and of solutions with their formulas.

use std::sync::LazyLock;

use super::pattern::Part::{Either, List, Maybe, Newer, Word};
use super::row::{Block, Row};
use super::slot::{Statement as _, rows};
use super::value::{
    self, ContainedClause, Count, HalfFull, Harmless, HazardCode, Index, OwnName, SolutionName, State, Text,
    Unknown, Water,
};
use crate::model::{
    self, Difference, Dilution, Keeping, Mass, Measure, Number, Share, Substance, Temperature, Time, Volume,
};

const FILM: &[Block] = &[Block::Film];
const SOLUTION: &[Block] = &[Block::Solution];
const INGREDIENT: &[Block] = &[Block::Ingredient];

rows! { SHELF;
    Grain { grain: model::Grain } [grain]
        "grain" FILM, Once, "the form of its crystals: conventional, or tabular if they are flat", "grain tabular";
    Speed { speed: Index } [Word("ISO"), speed]
        "speed" FILM, Once, "its nominal speed", "speed ISO 400";
    Clears { time: Time, solution: SolutionName, dilution: Dilution, at: Temperature }
        [time, Word("in"), solution, Maybe(&[dilution]), Word("at"), at]
        "clears" FILM, Many, "its clearing time in a fixer at this dilution and temperature",
        "clears 60 s in rapid-fix 1+4 at 20 C";
    Coated {} [Word("both"), Word("sides")]
        "coated" FILM, Once, "it has an emulsion on both sides, so that its area counts twice",
        "coated both sides", 2;
    Cas { number: Text } [number]
        "cas" INGREDIENT, Once, "its CAS number", "cas \"81-93-6\"", 2;
    Hazards { none: Harmless, unknown: Unknown, statement: HazardCode }
        [Either(&[&[none], &[unknown], &[List(&[statement])]])]
        "hazards" INGREDIENT, Must, "the hazard statements of its data sheet; `unknown` if none was read",
        "hazards H302, H319", 2;
    Role { role: model::Role } [role]
        "role" SOLUTION, Must, "what it does to the film; edition 2: `treatment`", "role developer";
    Parts { part: OwnName } [List(&[part])]
        "parts" SOLUTION, Once, "the bottles it comes in, in the order of its dilution", "parts a, b";
    Formula { part: OwnName, makes: Volume } [Maybe(&[part]), Word("for"), makes]
        "formula" SOLUTION => Block::Formula, Many, "the ingredients for this volume of it, or of one of its bottles",
        "formula for 1 l {";
    FormulaLine {
        water: Water, ingredient: Substance, mark: Volume, mass: Mass, volume: Volume, per_litre: Measure,
        at: value::Tap, strength: Share, state: State,
    } [
        Either(&[&[water], &[ingredient]]),
        Either(&[
            &[Word("to"), mark],
            &[
                Either(&[&[mass], &[volume], &[per_litre]]),
                Maybe(&[Either(&[&[Word("at"), at], &[strength], &[state]])]),
            ],
        ]),
    ]
        "" &[Block::Formula], Some,
        "an ingredient, in the order of dissolving; a salt with its state, water up to the mark last; edition 2: or another \
         solvent",
        "sodium-sulfite 100 g anhydrous";
    Contains { item: ContainedClause } [List(&[item])]
        "contains" SOLUTION, Once,
        "the ingredients of a bought solution, for the cautions on cards; edition 2: how much",
        "contains ammonium-thiosulfate, acetic-acid";
    Ph { ph: value::Ph } [ph]
        "ph" SOLUTION, Once, "its pH as bottled, measured or from its data sheet", "ph 4.8", 2;
    Needs { volume: Volume } [volume, Word("per"), Word("roll")]
        "needs" SOLUTION, Once, "the least volume of it, undiluted, for one roll (80 square inches)",
        "needs 250 ml per roll";
    Treats { rolls: Count, per: Volume, at: Dilution }
        [rolls, Either(&[&[Word("rolls")], &[Newer(2, &[Word("roll")])]]), Word("per"), per, Maybe(&[Word("at"), at])]
        "treats" SOLUTION, Many, "how many rolls this volume of working solution treats; edition 2: `1 roll`",
        "treats 10 rolls per 1 l at 1+4";
    Extend { by: Share, rolls: Count } [by, Word("per"), rolls, Either(&[&[Word("rolls")], &[Newer(2, &[Word("roll")])]])]
        "extend" SOLUTION, Once, "how its time grows with the rolls it has treated; edition 2: `per 1 roll`",
        "extend 10 % per 4 rolls";
    Replenish { volume: Volume, with: SolutionName }
        [volume, Word("per"), Word("roll"), Newer(2, &[Word("with"), with])]
        "replenish" SOLUTION, Once, "what is added after each roll; edition 2: and of which solution",
        "replenish 25 ml per roll";
    Rate { factor: Number, interval: Difference } [factor, Word("per"), interval]
        "rate" SOLUTION, Once, "the factor by which its time shortens for this rise of temperature", "rate 2.4 per 10 C";
    Keeps { keeping: Keeping, time: Time, half_full: HalfFull, at: Dilution } [
        Either(&[&[keeping], &[Newer(2, &[time])]]),
        Newer(2, &[half_full]),
        Newer(2, &[Word("at"), at]),
    ]
        "keeps" SOLUTION, Many,
        "how long it keeps once mixed; edition 2: at a dilution, in a half full bottle, or its working life in hours or \
         minutes",
        "keeps 6 months";
    // This row is a clause inside `contains`. No block has it as a statement.
    Contained { ingredient: Substance, share: Share, per_litre: Measure }
        [ingredient, Newer(2, &[Either(&[&[share], &[per_litre]])])]
        "" &[], Many, "an ingredient, and how much of it", "acetic-acid 60 %";
}

pub(super) fn contained() -> &'static [&'static Row] {
    static ROWS: LazyLock<Vec<&'static Row>> = LazyLock::new(|| Contained::rows().iter().collect());
    &ROWS
}
