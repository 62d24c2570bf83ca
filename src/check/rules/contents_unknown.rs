//! A bought solution without its contents.

use super::*;

rule! {
    /// # contents-unknown
    ///
    /// **What.** A solution has neither a `formula` nor `contains`.
    ///
    /// **Why.** A card warns of the chemicals in its solutions. Without contents it cannot, and a card without a
    /// warning looks harmless.
    ///
    /// ```fires
    /// wetside 1
    /// solution stop-bath {
    ///     role      stop
    ///     treats    12 rolls per 1 l at 1+19
    /// }
    /// ```
    ///
    /// **Instead.** Name what the safety data sheet names.
    ///
    /// ```quiet
    /// wetside 1
    /// solution stop-bath {
    ///     role      stop
    ///     contains  acetic-acid
    ///     treats    12 rolls per 1 l at 1+19
    /// }
    /// ```
    ///
    /// **Source.** That the makers of mixtures name what is dangerous in them: section 3 of a safety data sheet, Globally Harmonized System, annex 4.
    "contents-unknown", Warning, "a solution without a formula and without contents", Solution(check)
}

fn check(solution: &Solution) -> Option<Diagnostic> {
    let unknown = solution.formulas.is_empty() && solution.contains.is_empty();
    let message = format!("a card cannot warn of the contents of '{}': none are stated", solution.name);
    let help = "name what section 3 of its safety data sheet names, such as: contains acetic-acid";
    unknown.then(|| RULE.found(solution.span, message).help(help))
}
