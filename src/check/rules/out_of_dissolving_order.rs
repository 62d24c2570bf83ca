//! Ingredients in an order in which they do not dissolve, or throw each other out.

use crate::model::{Formula, Item, Solution, Substance};
use crate::source::Diagnostic;

rule! {
    /// # out-of-dissolving-order
    ///
    /// **What.** In a formula metol comes after the sulfite; or, where there is hypo or alum, an acid comes before the sulfite; or an alum before the sulfite or the acid.
    ///
    /// **Why.** Metol hardly dissolves in strong sulfite, and what floats undissolved settles on the film as spots. Acid that meets hypo without sulfite throws sulfur. Alum that meets sulfite without acid comes down as sludge.
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
    /// A pinch of the sulfite may go in before the metol, to keep it clear; the rest then has a line of its own behind it.
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
    "out-of-dissolving-order", Warning, "an ingredient out of the usual order of dissolving", Solution(look)
}

const SULFITE: &[&str] = &["sodium-sulfite"];
const ACIDS: &[&str] = &["acetic-acid", "citric-acid", "sulfuric-acid"];
const ALUMS: &[&str] = &["chrome-alum", "potassium-alum"];
/// What makes the order of acid and sulfite matter.
const FIXING: &[&str] = &["ammonium-thiosulfate", "chrome-alum", "potassium-alum", "sodium-thiosulfate"];

fn look(solution: &Solution, faults: &mut Vec<Diagnostic>) {
    for formula in &solution.formulas {
        let has = |names| formula.items.iter().any(|item| is_of(item, names));
        faults.extend(wrong(formula, SULFITE, &["metol"], "metol hardly dissolves in the sulfite before it"));
        if has(FIXING) {
            faults.extend(wrong(formula, ACIDS, SULFITE, "acid that has no sulfite yet throws sulfur"));
        }
        if has(SULFITE) {
            let sludge = "alum meets the sulfite without acid here, and comes down as sludge";
            let late = wrong(formula, ALUMS, ACIDS, sludge).or_else(|| wrong(formula, ALUMS, SULFITE, sludge));
            faults.extend(late);
        }
    }
}

/// The finding that one of these stands before all of those, if it does.
fn wrong(formula: &Formula, early: &[&str], late: &[&str], message: &str) -> Option<Diagnostic> {
    let at = |names: &[&str]| formula.items.iter().position(|item| is_of(item, names));
    let (first, then) = (at(early)?, at(late)?);
    // A second line of the same comes behind: the first was a pinch of it.
    let again = formula.items.iter().skip(then).any(|item| is_of(item, early));
    if then < first || again {
        return None;
    }
    let (first, then) = (formula.items.get(first)?, formula.items.get(then)?);
    let finding = RULE.found(first.span, message).other(then.span, format!("{} comes only here", name(then)));
    Some(finding.help(format!("move the line of {} behind that of {}", name(first), name(then))))
}

fn is_of(item: &Item, names: &[&str]) -> bool {
    names.contains(&name(item))
}

fn name(item: &Item) -> &str {
    match &item.what {
        Substance::Water => "water",
        Substance::Known(ingredient) => ingredient.name,
        Substance::Other(name) => name,
    }
}
