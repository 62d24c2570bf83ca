//! A developer without its capacity.

use super::*;

rule! {
    /// # developer-without-capacity
    ///
    /// **What.** A developer or a monobath has neither `needs` nor `treats`.
    ///
    /// **Why.** Enough to cover the reels may not be enough to develop. A very dilute developer can be exhausted
    /// before the last roll has its density, and no card can warn of it.
    ///
    /// ```fires
    /// wetside 1
    /// solution syrup {
    ///     role      developer
    ///     contains  p-aminophenol-hydrochloride, potassium-hydroxide, sodium-sulfite
    /// }
    /// ```
    ///
    /// **Instead.** State the least volume for a roll, or how many rolls a volume treats.
    ///
    /// ```quiet
    /// wetside 1
    /// solution syrup {
    ///     role      developer
    ///     contains  p-aminophenol-hydrochloride, potassium-hydroxide, sodium-sulfite
    ///     needs     5 ml per roll
    /// }
    /// ```
    ///
    /// **Source.** Common practice, no source.
    "developer-without-capacity", Advice, "a developer without a capacity", Solution(check)
}

fn check(solution: &Solution) -> Option<Diagnostic> {
    let develops = matches!(solution.role, Some(Role::Developer | Role::Monobath));
    let unknown = solution.needs.is_none() && solution.treats.is_empty() && solution.replenish.is_none();
    let message = format!("the capacity of '{}' is not stated", solution.name);
    let help = "add a line such as: needs 250 ml per roll, or: treats 8 rolls per 1 l at stock";
    (develops && unknown).then(|| RULE.found(solution.span, message).help(help))
}
