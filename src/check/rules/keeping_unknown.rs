//! A mixed solution without a keeping time.

use super::*;

rule! {
    /// # keeping-unknown
    ///
    /// **What.** A solution has a formula and no `keeps`.
    ///
    /// **Why.** A mixed solution goes off. An expired developer looks like any other, and the film that shows it
    /// cannot be shot again.
    ///
    /// ```fires
    /// wetside 1
    /// solution mq {
    ///     role      developer
    ///     formula for 1 l {
    ///         water            750 ml at 50 C
    ///         metol            2 g
    ///         sodium-sulfite   100 g anhydrous
    ///         water            to 1 l
    ///     }
    ///     needs     250 ml per roll
    /// }
    /// ```
    ///
    /// **Instead.** State how long it keeps in a full, closed bottle.
    ///
    /// ```quiet
    /// wetside 1
    /// solution mq {
    ///     role      developer
    ///     formula for 1 l {
    ///         water            750 ml at 50 C
    ///         metol            2 g
    ///         sodium-sulfite   100 g anhydrous
    ///         water            to 1 l
    ///     }
    ///     needs     250 ml per roll
    ///     keeps     6 months
    /// }
    /// ```
    ///
    /// **Source.** State rules for X-ray rooms have all chemicals replaced after two or three months: Wash. Admin. Code 246-225-150, N.M. Admin. Code 20.3.6.612.
    "keeping-unknown", Advice, "a mixed solution without a keeping time", Solution(check)
}

fn check(solution: &Solution) -> Option<Diagnostic> {
    let unknown = !solution.formulas.is_empty() && solution.keeps.is_none();
    let message = format!("'{}' has a formula, and no keeping time", solution.name);
    unknown.then(|| RULE.found(solution.span, message).help("add a line such as: keeps 3 months"))
}
