//! A fixer without its capacity.

use super::*;

rule! {
    /// # fixer-without-capacity
    ///
    /// **What.** A fixer or a bleach-fix has no `treats`.
    ///
    /// **Why.** A spent fixer looks like a fresh one. Film that went through it keeps silver salts and turns brown in the years to come, when nothing can be done about it.
    ///
    /// ```fires
    /// wetside 1
    /// solution rapid-fix {
    ///     role      fixer
    ///     contains  ammonium-thiosulfate, sodium-sulfite
    /// }
    /// ```
    ///
    /// **Instead.** Say how many rolls so much of it treats at the strength you use.
    ///
    /// ```quiet
    /// wetside 1
    /// solution rapid-fix {
    ///     role      fixer
    ///     contains  ammonium-thiosulfate, sodium-sulfite
    ///     treats    10 rolls per 1 l at 1+4
    /// }
    /// ```
    ///
    /// **Source.** NAVEDTRA 14209, Photography (Basic), chapter 10: the life of a fixing bath.
    "fixer-without-capacity", Warning, "a fixer that does not say how many rolls it treats", Solution(check)
}

fn check(solution: &Solution) -> Option<Diagnostic> {
    let message = format!("the capacity of '{}' is not stated", solution.name);
    let help = "add a line such as: treats 10 rolls per 1 l at 1+4";
    solution.is_fixer_without_capacity().then(|| RULE.found(solution.span, message).help(help))
}
