//! The rule `acid-before-water`.

use super::*;

rule! {
    /// # acid-before-water: acid listed before water in a formula
    ///
    /// The acids are acetic and sulfuric acid.
    ///
    /// **Why.** Formulas are mixed in the order written. Water poured onto strong acid boils and throws acid into
    /// your face.
    ///
    /// ```fires
    /// wetside 1
    /// solution stop-bath {
    ///     role      stop
    ///     formula for 1 l {
    ///         acetic-acid      17 ml glacial
    ///         water            to 1 l
    ///     }
    /// }
    /// ```
    ///
    /// **Instead.** Begin with most of the water and add the acid to it.
    ///
    /// ```quiet
    /// wetside 1
    /// solution stop-bath {
    ///     role      stop
    ///     formula for 1 l {
    ///         water            750 ml at 20 C
    ///         acetic-acid      17 ml glacial
    ///         water            to 1 l
    ///     }
    /// }
    /// ```
    ///
    /// **Source.** US Department of Defense, Nondestructive Inspection Methods, T.O. 33B-1-1, chapter 6: acid is added
    /// slowly to the water.
    Error, Formula(check)
}

/// Acids that are sold in such a strength that water poured onto them boils.
const ACIDS: [&str; 2] = ["acetic-acid", "sulfuric-acid"];

fn check(formula: &Formula) -> Option<Diagnostic> {
    let (acid, water) = acid_first(formula)?;
    let message = format!("{} comes before the water here, and water poured onto acid boils", acid.what.name());
    Some(
        RULE.found(acid.span, message)
            .other(water.span, "the first water")
            .help("begin the formula with most of its water, such as: water 750 ml at 20 C"),
    )
}

/// The first acid and the first water of a formula; `None` unless the acid comes first.
pub(super) fn acid_first(formula: &Formula) -> Option<(&FormulaItem, &FormulaItem)> {
    let water = formula.items.iter().position(|item| item.what == Substance::Water)?;
    let mut before = formula.items.iter().take(water);
    Some((before.find(|item| ACIDS.contains(&item.what.name()))?, formula.items.get(water)?))
}
