//! The rule `out-of-dissolving-order`.

use super::*;

rule! {
    /// # out-of-dissolving-order: ingredients in an order in which they do not dissolve
    ///
    /// Metol comes after the sulfite; or thiosulfate and an acid both before the sulfite; or an alum before the
    /// sulfite or the acid.
    ///
    /// **Why.** Metol hardly dissolves in strong sulfite, and undissolved metol settles on the film as spots. Acid
    /// with hypo and without sulfite precipitates sulfur. Alum with sulfite and without acid precipitates as
    /// sludge.
    ///
    /// ```fires
    /// wetside 1
    /// solution mq {
    ///     role      developer
    ///     formula for 1 l {
    ///         sodium-sulfite   100 g anhydrous
    ///         metol            2 g
    ///     }
    /// }
    /// ```
    ///
    /// ```fires
    /// wetside 1
    /// solution hardening-fix {
    ///     role      fixer
    ///     formula for 1 l {
    ///         potassium-alum   15 g dodecahydrate
    ///         sodium-sulfite   15 g anhydrous
    ///     }
    /// }
    /// ```
    ///
    /// **Instead.** Metol first, then the sulfite; in a fixer the sulfite, then the acid, then the alum.
    ///
    /// ```quiet
    /// wetside 1
    /// solution mq {
    ///     role      developer
    ///     formula for 1 l {
    ///         metol            2 g
    ///         sodium-sulfite   100 g anhydrous
    ///     }
    /// }
    /// ```
    ///
    /// A pinch of the sulfite may come before the metol, to keep it clear; the rest then has its own line after it.
    ///
    /// ```quiet
    /// wetside 1
    /// solution mq {
    ///     role      developer
    ///     formula for 1 l {
    ///         sodium-sulfite   2 g anhydrous
    ///         metol            2 g
    ///         sodium-sulfite   98 g anhydrous
    ///     }
    /// }
    /// ```
    ///
    /// Acid in water, then the sulfite, then the hypo is sound.
    ///
    /// ```quiet
    /// wetside 1
    /// solution acid-fix {
    ///     role      fixer
    ///     formula for 1 l {
    ///         water            700 ml at 40 C
    ///         sulfuric-acid    2.2 ml concentrated
    ///         sodium-sulfite   15 g anhydrous
    ///         sodium-thiosulfate 250 g pentahydrate
    ///         water            to 1 l
    ///     }
    ///     caution   "acid burns: goggles"
    /// }
    /// ```
    ///
    /// **Source.** Ingredients are dissolved in the order of the formula, and metol before all sulfite except a pinch:
    /// US Army, Photographic Quality Control, subcourse SS0513, 1988, lesson 1. The order of sulfite, acid and alum:
    /// from memory, not looked up.
    Warning, Formula(check)
}

const SULFITE: &[&str] = &["sodium-sulfite"];
const ACIDS: &[&str] = &["acetic-acid", "citric-acid", "sulfuric-acid"];
const ALUMS: &[&str] = &["chrome-alum", "potassium-alum"];

fn check(formula: &Formula) -> Vec<Diagnostic> {
    let has = |names: &[&str]| first_of(formula, names).is_some();
    // Acid is reported only if thiosulfate comes before the sulfite, so that acid and thiosulfate meet without sulfite.
    // Acid in water, then sulfite, then thiosulfate is correct.
    let meets = first_of(formula, THIOSULFATES)
        .is_some_and(|at| first_of(formula, SULFITE).is_none_or(|sulfite| at < sulfite));
    let metol = wrong(formula, SULFITE, &["metol"], "metol hardly dissolves after sulfite");
    let acid = wrong(formula, ACIDS, SULFITE, "acid before the sulfite precipitates sulfur");
    let sludge = "alum with sulfite and without acid precipitates as sludge";
    let alum = wrong(formula, ALUMS, ACIDS, sludge).or_else(|| wrong(formula, ALUMS, SULFITE, sludge));
    [metol, acid.filter(|_| meets), alum.filter(|_| has(SULFITE))].into_iter().flatten().collect()
}

fn first_of(formula: &Formula, names: &[&str]) -> Option<usize> {
    formula.items.iter().position(|item| names.contains(&item.what.name()))
}

/// The finding if an ingredient of `early` comes before all ingredients of `late`; otherwise `None`.
fn wrong(formula: &Formula, early: &[&str], late: &[&str], message: &str) -> Option<Diagnostic> {
    let (first, then) = (first_of(formula, early)?, first_of(formula, late)?);
    // If an early ingredient also has a later line, nothing is reported: the first line may be a pinch of it.
    let again = formula.items.iter().skip(then).any(|item| early.contains(&item.what.name()));
    if then < first || again {
        return None;
    }
    let (first, then) = (formula.items.get(first)?, formula.items.get(then)?);
    let finding = RULE.found(first.span, message).other(then.span, format!("the first {}", then.what.name()));
    Some(finding.help(format!("move the line of {} after that of {}", first.what.name(), then.what.name())))
}
