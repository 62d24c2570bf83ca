//! Ingredients that do not dissolve in this order.

use super::*;

rule! {
    /// # out-of-dissolving-order
    ///
    /// **What.** In a formula metol comes after the sulfite; or, with hypo or alum, an acid before the sulfite; or an
    /// alum before the sulfite or the acid.
    ///
    /// **Why.** Metol hardly dissolves in strong sulfite, and undissolved metol settles on the film as spots. Acid
    /// with hypo and without sulfite precipitates sulfur. Alum with sulfite and without acid precipitates as sludge.
    ///
    /// ```fires
    /// wetside 1
    /// solution mq {
    ///     role      developer
    ///     formula for 1 l {
    ///         water            750 ml at 50 C
    ///         sodium-sulfite   100 g anhydrous
    ///         metol            2 g
    ///         hydroquinone     5 g
    ///         water            to 1 l
    ///     }
    ///     needs     250 ml per roll
    ///     keeps     6 months
    /// }
    /// ```
    ///
    /// ```fires
    /// wetside 1
    /// solution hardening-fix {
    ///     role      fixer
    ///     formula for 1 l {
    ///         water            600 ml at 50 C
    ///         sodium-thiosulfate 240 g pentahydrate
    ///         potassium-alum   15 g dodecahydrate
    ///         sodium-sulfite   15 g anhydrous
    ///         acetic-acid      48 ml 28 %
    ///         water            to 1 l
    ///     }
    ///     treats    20 rolls per 1 l
    ///     keeps     2 months
    ///     caution   "the acid burns: gloves and goggles"
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
    ///         water            750 ml at 50 C
    ///         metol            2 g
    ///         sodium-sulfite   100 g anhydrous
    ///         hydroquinone     5 g
    ///         water            to 1 l
    ///     }
    ///     needs     250 ml per roll
    ///     keeps     6 months
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
    ///         water            750 ml at 50 C
    ///         sodium-sulfite   2 g anhydrous
    ///         metol            2 g
    ///         sodium-sulfite   98 g anhydrous
    ///         water            to 1 l
    ///     }
    ///     needs     250 ml per roll
    ///     keeps     6 months
    /// }
    /// ```
    ///
    /// **Source.** Sulfite, acid, alum: Studio Light, 1916. Metol before the sulfite, but for a pinch: a chemical supplier's notes.
    "out-of-dissolving-order", Warning, "ingredients in an order in which they do not dissolve", Formula(check)
}

const SULFITE: &[&str] = &["sodium-sulfite"];
const ACIDS: &[&str] = &["acetic-acid", "citric-acid", "sulfuric-acid"];
const ALUMS: &[&str] = &["chrome-alum", "potassium-alum"];
/// Ingredients with which the order of acid and sulfite matters.
const FIXING: &[&str] = &["ammonium-thiosulfate", "chrome-alum", "potassium-alum", "sodium-thiosulfate"];

fn check(formula: &Formula) -> Vec<Diagnostic> {
    let has = |names: &[&str]| formula.items.iter().any(|item| names.contains(&item.what.name()));
    let metol = wrong(formula, SULFITE, &["metol"], "metol hardly dissolves after sulfite");
    let acid = wrong(formula, ACIDS, SULFITE, "acid before the sulfite precipitates sulfur");
    let sludge = "alum with sulfite and without acid precipitates as sludge";
    let alum = wrong(formula, ALUMS, ACIDS, sludge).or_else(|| wrong(formula, ALUMS, SULFITE, sludge));
    [metol, acid.filter(|_| has(FIXING)), alum.filter(|_| has(SULFITE))].into_iter().flatten().collect()
}

/// The finding that an `early` ingredient comes before all `late` ones, if it does.
fn wrong(formula: &Formula, early: &[&str], late: &[&str], message: &str) -> Option<Diagnostic> {
    let at = |names: &[&str]| formula.items.iter().position(|item| names.contains(&item.what.name()));
    let (first, then) = (at(early)?, at(late)?);
    // A pinch may come early, if the rest has a line of its own.
    let again = formula.items.iter().skip(then).any(|item| early.contains(&item.what.name()));
    if then < first || again {
        return None;
    }
    let (first, then) = (formula.items.get(first)?, formula.items.get(then)?);
    let finding = RULE.found(first.span, message).other(then.span, format!("the first {}", then.what.name()));
    Some(finding.help(format!("move the line of {} after that of {}", first.what.name(), then.what.name())))
}
