//! The amounts in published formulas, by what the bath does, and the limits beyond which an amount is a slip.
//!
//! Source: 163 published formulas, 44 of them read and the rest from memory: US Army, Laboratory Procedures, subcourse
//! SS0509, 1988; US Navy, Photography (Basic), NAVEDTRA 14209, 1993; US Department of Defense, Nondestructive
//! Inspection Methods, T.O. 33B-1-1; Anchell, The Darkroom Cookbook, 3rd ed., 2008; Jones (ed.), Cassell's Cyclopaedia
//! of Photography, 1911; Wall, The Dictionary of Photography, c. 1902. The
//! limits are rounded outwards, so that each of these formulas is within them. What dissolves is from standard tables,
//! from memory.

use super::kinds::*;
use super::{Mixture, Part, figures};
use crate::model::Role;

/// The plausible amounts of an ingredient in the bath as diluted for use, in grams a litre, or in millilitres of pure
/// liquid a litre.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Range {
    names: &'static [&'static str],
    /// The least and the greatest amount in published formulas; both are 0 if no formula is known.
    printed: (f64, f64),
    /// A smaller amount is implausible; 0 if no amount is too small.
    under: f64,
    /// A greater amount is implausible.
    over: f64,
    /// The number of published formulas with this ingredient, and how many of these were looked up; the others are from
    /// memory. If both are 0, the limits are from memory, not looked up.
    formulas: (u32, u32),
}

const fn range(
    names: &'static [&'static str],
    printed: (f64, f64),
    under: f64,
    over: f64,
    formulas: (u32, u32),
) -> Range {
    Range { names, printed, under, over, formulas }
}

const ASCORBATES: &[&str] = &["ascorbic-acid", "sodium-ascorbate"];
const DICHROMATE: &[&str] = &["potassium-dichromate"];
const IRON_EDTA: &[&str] = &["ammonium-ferric-edta", "ferric-sodium-edta"];
const THIOCYANATES: &[&str] = &["potassium-thiocyanate", "sodium-thiocyanate"];

const DEVELOPER: &[Range] = &[
    range(&["metol"], (0.097, 14.0), 0.05, 18.0, (51, 14)),
    range(&["pyrogallol"], (0.97, 10.0), 0.3, 20.0, (5, 1)),
    range(&["catechol"], (0.5, 10.0), 0.2, 20.0, (3, 0)),
    range(&["glycin"], (1.5, 7.5), 0.4, 25.0, (6, 0)),
    range(&["amidol"], (4.5, 7.5), 1.0, 30.0, (3, 1)),
    range(&["p-aminophenol-hydrochloride"], (0.6, 2.5), 0.2, 15.0, (1, 0)),
    range(&["ascorbic-acid"], (2.1, 16.0), 0.8, 30.0, (5, 2)),
    range(&["sodium-ascorbate"], (2.1, 16.0), 0.8, 35.0, (5, 2)),
    range(&["sodium-sulfite"], (0.3, 125.0), 0.0, 160.0, (71, 15)),
    range(BISULFITES, (0.1, 20.0), 0.0, 45.0, (15, 4)),
    range(&["borax"], (0.6, 36.0), 0.8, 45.0, (16, 6)),
    range(&["sodium-metaborate"], (2.0, 23.0), 0.8, 60.0, (7, 0)),
    range(&["sodium-carbonate"], (1.0, 60.0), 0.4, 110.0, (35, 6)),
    range(&["potassium-carbonate"], (7.0, 90.0), 3.0, 150.0, (6, 1)),
    range(LYES, (1.4, 26.0), 0.3, 50.0, (12, 5)),
    range(&["sodium-bicarbonate"], (3.0, 10.0), 0.0, 40.0, (2, 1)),
    range(&["potassium-iodide"], (0.00005, 0.25), 0.0, 0.4, (2, 0)),
    range(&["benzotriazole"], (0.013, 0.05), 0.0, 0.6, (3, 0)),
    range(THIOCYANATES, (1.0, 6.0), 0.0, 12.0, (3, 0)),
    range(&["boric-acid"], (2.0, 35.0), 0.0, 50.0, (5, 0)),
    range(&["citric-acid"], (0.1, 3.0), 0.0, 12.0, (4, 2)),
    range(&["sodium-sulfate"], (45.0, 45.0), 0.0, 150.0, (1, 0)),
    range(&["p-phenylenediamine"], (7.0, 10.0), 2.0, 25.0, (2, 0)),
    range(&["sodium-thiosulfate"], (0.0, 0.0), 0.0, 12.0, (0, 0)),
];

const HYDROQUINONE: &[&str] = &["hydroquinone"];
const HYDROQUINONE_MILD: Range = range(HYDROQUINONE, (1.5, 5.0), 0.5, 12.0, (11, 2));
const HYDROQUINONE_CARBONATE: Range = range(HYDROQUINONE, (1.0, 25.0), 0.5, 27.0, (26, 5));
const HYDROQUINONE_LYE: Range = range(HYDROQUINONE, (3.0, 30.0), 0.5, 50.0, (9, 3));
const PHENIDONE: &[&str] = &["phenidone"];
const PHENIDONE_BESIDE: Range = range(PHENIDONE, (0.08, 0.25), 0.05, 0.8, (8, 0));
const PHENIDONE_BESIDE_OTHERS: Range = range(PHENIDONE, (0.02, 0.15), 0.015, 0.8, (2, 0));
const PHENIDONE_ALONE: Range = range(PHENIDONE, (1.5, 1.5), 0.3, 3.0, (1, 0));
const PHENIDONE_OF_ANY: Range = range(PHENIDONE, (0.02, 1.5), 0.015, 3.0, (11, 0));
const BROMIDE: Range = range(BROMIDES, (0.01, 5.0), 0.0, 12.0, (44, 4));
const BROMIDE_LYE: Range = range(BROMIDES, (0.55, 20.0), 0.0, 35.0, (9, 3));

const COLOUR: &[Range] = &[
    range(&["colour-developing-agent"], (3.0, 11.0), 1.5, 20.0, (4, 0)),
    range(&["sodium-sulfite"], (2.0, 6.0), 0.0, 14.0, (4, 0)),
    range(&["hydroxylamine-sulfate"], (1.2, 2.4), 0.0, 8.0, (2, 0)),
    range(CARBONATES, (26.0, 75.0), 10.0, 120.0, (3, 0)),
    range(BROMIDES, (0.7, 2.5), 0.0, 6.0, (4, 0)),
    range(&["potassium-iodide"], (0.002, 0.04), 0.0, 0.2, (2, 0)),
];

const MONOBATH: &[Range] = &[
    range(HYDROQUINONE, (12.0, 12.0), 3.0, 40.0, (2, 0)),
    range(PHENIDONE, (1.0, 4.0), 0.2, 12.0, (2, 0)),
    range(&["sodium-sulfite"], (50.0, 50.0), 20.0, 120.0, (2, 0)),
    range(LYES, (4.0, 10.0), 1.0, 30.0, (2, 0)),
    range(&["sodium-thiosulfate"], (90.0, 110.0), 40.0, 300.0, (2, 0)),
];

const STOP: &[Range] = &[
    range(&["acetic-acid"], (9.0, 35.0), 4.0, 60.0, (5, 4)),
    range(&["citric-acid"], (15.0, 15.0), 4.0, 60.0, (2, 1)),
    range(BISULFITES, (20.0, 25.0), 8.0, 90.0, (1, 1)),
    range(&["sodium-sulfate"], (45.0, 45.0), 0.0, 150.0, (2, 2)),
];

const FIXER: &[Range] = &[
    range(&["sodium-thiosulfate"], (100.0, 400.0), 60.0, 600.0, (18, 9)),
    range(&["ammonium-thiosulfate"], (96.0, 200.0), 40.0, 400.0, (3, 0)),
    range(&["sodium-sulfite"], (7.5, 30.0), 0.0, 80.0, (15, 4)),
    range(&["acetic-acid"], (9.0, 21.0), 0.0, 30.0, (9, 2)),
    range(&["citric-acid"], (15.0, 15.0), 0.0, 40.0, (1, 1)),
    range(&["sulfuric-acid"], (2.2, 2.2), 0.0, 8.0, (1, 1)),
    range(BISULFITES, (6.5, 28.0), 0.0, 90.0, (4, 3)),
    range(&["potassium-alum"], (15.0, 25.0), 4.0, 45.0, (8, 2)),
    range(&["chrome-alum"], (9.0, 28.0), 3.0, 80.0, (3, 3)),
    range(&["boric-acid"], (7.5, 10.0), 0.0, 30.0, (4, 2)),
    range(&["sodium-metaborate"], (1.0, 30.0), 0.0, 60.0, (4, 0)),
    range(&["ammonium-chloride"], (50.0, 50.0), 0.0, 120.0, (1, 0)),
];

const HARDENER: &[Range] = &[
    range(&["chrome-alum"], (30.0, 30.0), 5.0, 90.0, (2, 0)),
    range(&["potassium-alum"], (15.0, 50.0), 5.0, 115.0, (2, 1)),
    range(&["formaldehyde"], (10.0, 90.0), 3.0, 120.0, (1, 0)),
];

/// The amounts in bleaches, reducers and intensifiers, which all have the role `bleach`.
const BLEACH: &[Range] = &[
    range(DICHROMATE, (4.0, 9.5), 1.5, 60.0, (4, 3)),
    range(&["sulfuric-acid"], (0.9, 19.0), 0.4, 35.0, (3, 1)),
    range(&["sodium-bisulfate"], (24.0, 24.0), 8.0, 150.0, (1, 1)),
    range(&["potassium-permanganate"], (0.56, 2.0), 0.2, 8.0, (3, 2)),
    range(&["potassium-ferricyanide"], (2.3, 100.0), 1.0, 200.0, (3, 1)),
    range(BROMIDES, (11.0, 30.0), 0.0, 150.0, (2, 1)),
    range(IRON_EDTA, (55.0, 110.0), 15.0, 300.0, (0, 0)),
    range(&["ammonium-persulfate"], (20.0, 50.0), 0.0, 120.0, (1, 1)),
    range(&["mercuric-chloride"], (22.0, 25.0), 0.0, 60.0, (1, 1)),
];

const BLEACH_FIX: &[Range] = &[range(IRON_EDTA, (55.0, 110.0), 15.0, 300.0, (0, 0))];

const TONER: &[Range] = &[
    range(&["sodium-sulfide"], (10.0, 10.0), 1.0, 60.0, (1, 0)),
    range(&["thiourea"], (2.0, 2.0), 0.3, 30.0, (0, 0)),
    range(&["sodium-thiosulfate"], (480.0, 480.0), 0.0, 600.0, (1, 0)),
    range(&["potassium-alum"], (120.0, 120.0), 0.0, 140.0, (1, 0)),
    range(&["gold-chloride"], (0.1, 0.1), 0.02, 3.0, (1, 0)),
    range(THIOCYANATES, (10.0, 10.0), 1.0, 60.0, (1, 0)),
];

const CLEARING: &[Range] = &[
    range(&["sodium-sulfite"], (10.0, 90.0), 8.0, 160.0, (5, 1)),
    range(BISULFITES, (5.0, 25.0), 2.0, 80.0, (3, 0)),
    range(&["potassium-carbonate", "sodium-carbonate", "sodium-metaborate"], (10.0, 20.0), 3.0, 80.0, (2, 0)),
];

const STABILIZER: &[Range] = &[
    range(&["hexamine"], (4.0, 4.0), 1.0, 20.0, (1, 0)),
    range(&["formaldehyde"], (6.0, 6.0), 2.0, 30.0, (1, 0)),
];

/// Ingredients, each with the grams that a litre of water dissolves at 20 °C, and the greatest plausible number of
/// grams. The second figure is 5 % above the first. For borax and potassium alum, which are used warm, it is a round
/// figure above the published amounts.
pub(crate) const SOLUBLE: &[(&str, f64, f64)] = &[
    ("borax", 47.0, 65.0),
    ("boric-acid", 50.0, 52.5),
    ("chrome-alum", 245.0, 257.25),
    ("citric-acid", 900.0, 945.0),
    ("hydroquinone", 72.0, 75.6),
    ("potassium-alum", 115.0, 125.0),
    ("potassium-bromide", 650.0, 682.5),
    ("potassium-carbonate", 1100.0, 1155.0),
    ("potassium-dichromate", 125.0, 131.25),
    ("potassium-ferricyanide", 460.0, 483.0),
    ("potassium-metabisulfite", 450.0, 472.5),
    ("potassium-permanganate", 64.0, 67.2),
    ("sodium-carbonate", 215.0, 225.75),
    ("sodium-sulfite", 270.0, 283.5),
    ("sodium-thiosulfate", 1000.0, 1050.0),
];

/// Why the amount of an ingredient is implausible, with the amount and its limit in the units of [`Range`].
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) enum Odd {
    /// A bottle has more of it than dissolves: the amount in the bottle, and the amount that dissolves.
    Undissolved(f64, f64),
    /// The bath as used has too little of it: the amount, and the least plausible amount.
    Under(f64, f64),
    /// The bath as used has too much of it: the amount, and the greatest plausible amount.
    Over(f64, f64),
}

/// The relative tolerance of a comparison with a limit. Without it, rounding in the conversion of units could push an
/// amount that equals the limit over it.
const ROUNDING: f64 = 1e-9;

impl Mixture<'_> {
    /// Why the amount of an ingredient is implausible: it does not dissolve, or is outside its range. `None` if the
    /// amount is plausible or unknown.
    pub(super) fn find_odd(&self, part: &Part) -> Option<Odd> {
        if let Some(row) = SOLUBLE.iter().find(|(name, ..)| *name == part.name() && part.in_water) {
            let most = part.bottles.as_ref()?.iter().copied().fold(0.0, f64::max);
            if most > row.2 * (1.0 + ROUNDING) {
                return Some(Odd::Undissolved(most, row.1));
            }
        }
        let range = self.range(part)?;
        let (strongest, at_work) = (self.strongest(part)?, self.at_work(part)?);
        let over = range.over * self.slack();
        if at_work > over * (1.0 + ROUNDING) {
            return Some(Odd::Over(at_work, over));
        }
        (strongest < self.least(part, range) * (1.0 - ROUNDING)).then_some(Odd::Under(strongest, range.under))
    }

    pub(crate) fn is_odd(&self, names: &[&str]) -> bool {
        self.parts.iter().any(|part| is_in(names, part.name()) && part.odd.is_some())
    }

    /// The least plausible amount of an ingredient; 0 if another ingredient of the solution can do the same work.
    fn least(&self, part: &Part, range: Range) -> f64 {
        let others = |names: &[&str]| {
            self.parts.iter().any(|one| is_in(names, one.name()) && one.name() != part.name())
        };
        let is_helped = match self.role {
            Role::Stop => others(&[ACIDS, BISULFITES, ALUMS].concat()),
            Role::Fixer => is_in(THIOSULFATES, part.name()) && others(THIOSULFATES),
            Role::Developer => part.name() == "borax" && self.has_partners(),
            _ => false,
        };
        if is_helped { 0.0 } else { range.under }
    }

    pub(crate) fn range(&self, part: &Part) -> Option<Range> {
        if self.is_restrainer {
            return None;
        }
        let table = match self.role {
            Role::Developer if self.is_colour() => COLOUR,
            Role::Developer => return self.range_in_developer(part),
            Role::Monobath => MONOBATH,
            Role::Stop => STOP,
            Role::Fixer => FIXER,
            Role::Hardener => HARDENER,
            Role::Bleach => BLEACH,
            Role::BleachFix => BLEACH_FIX,
            Role::Toner => TONER,
            Role::Clearing => CLEARING,
            Role::Stabilizer => STABILIZER,
            Role::Fogging | Role::Wetting | Role::Treatment => return None,
        };
        table.iter().copied().find(|range| is_in(range.names, part.name()))
    }

    fn range_in_developer(&self, part: &Part) -> Option<Range> {
        // If a developer lacks an alkali, its kind is unknown, so it gets the ranges for lye, which are the widest. The
        // same holds for an ingredient outside the program's table, which may be an alkali or a developing agent.
        let has_lye = self.has(LYES) || self.lacks_alkali() || self.has_other();
        let is_strong =
            self.has(CARBONATES) || self.has(ALDEHYDES) || self.has(&["ammonia", "trisodium-phosphate"]);
        Some(match part.name() {
            "hydroquinone" if has_lye => HYDROQUINONE_LYE,
            "hydroquinone" if is_strong => HYDROQUINONE_CARBONATE,
            "hydroquinone" => HYDROQUINONE_MILD,
            "phenidone" if self.has_other() => PHENIDONE_OF_ANY,
            "phenidone" if self.has(&["catechol", "pyrogallol"]) || self.has(ASCORBATES) => {
                PHENIDONE_BESIDE_OTHERS
            }
            "phenidone" if self.parts.iter().filter(|one| is_in(AGENTS, one.name())).count() == 1 => {
                PHENIDONE_ALONE
            }
            "phenidone" => PHENIDONE_BESIDE,
            "potassium-bromide" | "sodium-bromide" if has_lye => BROMIDE_LYE,
            "potassium-bromide" | "sodium-bromide" => BROMIDE,
            name => return DEVELOPER.iter().copied().find(|range| is_in(range.names, name)),
        })
    }
}

const ALL: [(&str, &[Range]); 14] = [
    ("developer", DEVELOPER),
    ("developer, mild", &[HYDROQUINONE_MILD]),
    ("developer, with carbonate or an aldehyde", &[HYDROQUINONE_CARBONATE]),
    ("developer, with lye", &[HYDROQUINONE_LYE, BROMIDE_LYE]),
    ("developer, without lye", &[BROMIDE]),
    ("developer, beside hydroquinone or metol", &[PHENIDONE_BESIDE]),
    ("developer, beside catechol, pyrogallol or an ascorbate", &[PHENIDONE_BESIDE_OTHERS]),
    ("developer, alone", &[PHENIDONE_ALONE]),
    ("colour developer", COLOUR),
    ("monobath", MONOBATH),
    ("stop", STOP),
    ("fixer", FIXER),
    ("hardener", HARDENER),
    ("bleach", BLEACH),
];

const FEW: [(&str, &[Range]); 4] =
    [("bleach-fix", BLEACH_FIX), ("toner", TONER), ("clearing bath", CLEARING), ("stabilizer", STABILIZER)];

/// The limits of all ranges as a Markdown list, a line for each ingredient and bath. Each line also has the published
/// formulas on which the limits rest.
pub(crate) fn limits() -> String {
    let ranges = ALL.iter().chain(&FEW).flat_map(|(bath, ranges)| ranges.iter().map(move |one| (bath, one)));
    let line = |(bath, range): (&&str, &Range)| {
        let under =
            if range.under > 0.0 { format!("under {} or ", figures(range.under)) } else { String::new() };
        let source = match range.formulas {
            (0, _) => "no formula counted, from memory".to_owned(),
            (counted, read) => format!(
                "{} in {counted} published formulas, {read} of them read, the rest from memory",
                range.printed().unwrap_or_default()
            ),
        };
        format!("- {bath}: {} {under}over {}; {source}\n", range.names.join(", "), figures(range.over))
    };
    ranges.map(line).collect()
}

impl Range {
    /// The range of amounts in published formulas, such as `0.1 to 0.25`; `None` if no formula is known.
    pub(crate) fn printed(&self) -> Option<String> {
        let (least, most) = self.printed;
        if most <= 0.0 {
            return None;
        }
        Some(if (most - least).abs() < ROUNDING {
            figures(least)
        } else {
            format!("{} to {}", figures(least), figures(most))
        })
    }
}
