//! The rule `dangerous-mixture`.

use super::*;
use crate::chemistry::{PAIRS, Pair};
use crate::model::Content;

rule! {
    /// # dangerous-mixture: chemicals in one vessel that free gas, boil or spit
    ///
    /// At 1 g/l or more each, in one formula or two bottles of a solution, these pairs are reported: ferricyanide or
    /// thiocyanate with hydrochloric acid, sulfuric acid or bisulfate; sulfide, selenite or hypochlorite with an acid;
    /// hypochlorite with ammonia; permanganate or dichromate with alcohol, formaldehyde or thiosulfate; permanganate
    /// with sulfite. So is hydroxide that heats water of 45 °C or more to 60 °C or more, and sulfuric acid that goes
    /// into water of 60 °C or more or heats its water to 80 °C or more.
    ///
    /// **Why.** Hydrogen cyanide and hydrogen sulfide kill in a closed room, and hot lye or acid in the eyes blinds. No
    /// published bath has such a pair. Acid with sulfite, ferricyanide with thiosulfate, and an oxidiser with its acid
    /// are in published baths, and are not reported.
    ///
    /// ```fires
    /// wetside 1
    /// solution toner {
    ///     role      toner
    ///     formula for 1 l {
    ///         water            750 ml at 20 C
    ///         potassium-thiocyanate 10 g
    ///         sodium-bisulfate 20 g anhydrous
    ///         water            to 1 l
    ///     }
    ///     caution   "none"
    /// }
    /// ```
    ///
    /// **Instead.** Keep the two in bottles that never meet.
    ///
    /// ```quiet
    /// wetside 1
    /// solution toner {
    ///     role      toner
    ///     formula for 1 l {
    ///         water            750 ml at 20 C
    ///         potassium-thiocyanate 10 g
    ///         water            to 1 l
    ///     }
    /// }
    /// ```
    ///
    /// **Source.** 40 CFR 264, appendix V; International Chemical Safety Card ICSC 1132; EUH031 and EUH032 in Annex VI
    /// of Regulation (EC) 1272/2008; US EPA, A Method for Determining the Compatibility of Hazardous Wastes,
    /// EPA-600/2-80-076, 1980, looked up in a copy of its chart. Pairs of an oxidiser and a reducer: from memory, not
    /// looked up. The amounts and temperatures: common practice, no source. The heat of solution, 1.1 kJ for a gram of
    /// hydroxide and 1.7 kJ for a millilitre of sulfuric acid: from memory, not looked up.
    Error never lifted, Solution(check)
}

fn check(solution: &Solution) -> Option<Diagnostic> {
    PAIRS.iter().find_map(|pair| meeting(solution, pair)).or_else(|| solution.formulas.iter().find_map(boiling))
}

fn line<'a>(solution: &'a Solution, names: &[&str]) -> Option<&'a FormulaItem> {
    solution.items().find(|item| names.contains(&item.what.name()))
}

fn meeting(solution: &Solution, pair: &Pair) -> Option<Diagnostic> {
    let least = pair.in_one_vessel?;
    // Most solutions do not have both chemicals. For these, the slower calculation of contents is skipped.
    line(solution, pair.one).zip(line(solution, pair.other))?;
    let bottles = solution.bottle_names();
    let contents: Vec<Content> = bottles.iter().flat_map(|bottle| solution.contents(*bottle)).collect();
    let enough = |names: &[&str]| {
        let of = |content: &&Content| content.ingredient.is_one_of(names) && content.is_at_least(least);
        contents.iter().find(of)
    };
    let (one, other) = (enough(pair.one)?, enough(pair.other)?);
    let (names, comes) = ((one.ingredient.name, other.ingredient.name), pair.comes);
    let message = format!("in '{}', {} with {} {comes}", solution.name, names.0, names.1);
    let finding = RULE.found(one.span, message).other(other.span, format!("{} is here", names.1));
    Some(finding.help("leave one of them out; no published bath has both in one vessel"))
}

/// Temperatures in °C. Hydroxide is reported if its water is at `WARM` or warmer and the hydroxide heats it to `HOT`.
/// Sulfuric acid is reported if its water is at `HOT` or warmer, or if the acid heats it to `NEARLY_BOILING`.
const WARM: f64 = 45.0;
const HOT: f64 = 60.0;
const NEARLY_BOILING: f64 = 80.0;
/// The least pure sulfuric acid that is reported, in millilitres.
const DROPS: f64 = 5.0;
/// The heat that warms a millilitre of water by a degree, in joules.
const HEAT_OF_WATER: f64 = 4.2;

fn boiling(formula: &Formula) -> Option<Diagnostic> {
    let (mut water, mut warmth) = (0.0, 20.0_f64);
    for item in &formula.items {
        match (&item.what, item.measure) {
            (Substance::Water, Measure::Volume(volume)) => {
                water += millilitres(volume);
                warmth = item.at.map_or(warmth, |at| warmth.max(celsius(at)));
            }
            (what, Measure::Mass(mass)) if what.name().ends_with("-hydroxide") && water > 0.0 => {
                let after = warmth + 1100.0 * grams(mass) / (HEAT_OF_WATER * water);
                if WARM <= warmth && HOT <= after {
                    return Some(hot(item, warmth, after, "dissolve it in cold water of its own, and add that"));
                }
            }
            (what, Measure::Volume(volume)) if what.name() == "sulfuric-acid" && water > 0.0 => {
                let strength = item.strength.map_or(1.0, |share| f64::from(share.basis_points) / 10_000.0);
                let acid = millilitres(volume) * strength;
                let after = warmth + 1700.0 * acid / (HEAT_OF_WATER * (water + acid));
                if DROPS <= acid && (HOT <= warmth || NEARLY_BOILING <= after) {
                    return Some(hot(item, warmth, after, "begin with more water, and cold"));
                }
            }
            _ => {}
        }
    }
    None
}

fn hot(item: &FormulaItem, warmth: f64, after: f64, help: &str) -> Diagnostic {
    let name = item.what.name();
    let message = format!("{name} heats this water from {warmth:.0} °C to about {after:.0} °C, and it spits");
    RULE.found(item.span, message).help(help.to_owned())
}

#[expect(clippy::cast_precision_loss, reason = "an amount has fewer figures than a real number")]
fn millilitres(volume: Volume) -> f64 {
    volume.fl as f64 / Volume::ML as f64
}

#[expect(clippy::cast_precision_loss, reason = "an amount has fewer figures than a real number")]
fn grams(mass: model::Mass) -> f64 {
    mass.pg as f64 / model::Mass::G as f64
}

#[expect(clippy::cast_precision_loss, reason = "a temperature has fewer figures than a real number")]
fn celsius(at: Temperature) -> f64 {
    at.base as f64 / 9000.0
}
