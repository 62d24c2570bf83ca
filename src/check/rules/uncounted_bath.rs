//! The rule `uncounted-bath`.

use super::*;

rule! {
    /// # uncounted-bath: a bath without a capacity or a keeping time
    ///
    /// Its solution has no `treats` at that dilution, no `extend`, no `replenish` and no `keeps`.
    /// `fixer-without-capacity` reports a fixer without `treats`.
    ///
    /// **Why.** A bath is recorded to know when it is exhausted. Without a limit that cannot be known.
    ///
    /// ```fires
    /// wetside 1
    /// solution citric-stop {
    ///     role      stop
    /// }
    /// bath stop-a {
    ///     in        citric-stop 1+19
    ///     volume    1 l
    ///     mixed     2026-07-02
    /// }
    /// ```
    ///
    /// **Instead.** State its capacity or how long it keeps.
    ///
    /// ```quiet
    /// wetside 1
    /// solution citric-stop {
    ///     role      stop
    ///     treats    12 rolls per 1 l at 1+19
    /// }
    /// bath stop-a {
    ///     in        citric-stop 1+19
    ///     volume    1 l
    ///     mixed     2026-07-02
    /// }
    /// ```
    ///
    /// **Source.** Common practice, no source.
    Advice, Bath(check)
}

fn check(bath: &KeptBath) -> Option<Diagnostic> {
    let (name, solution, dilution) = (&bath.name, &bath.solution, &bath.dilution);
    let is_limited = solution.extend.is_some()
        || solution.replenish.is_some()
        || solution.keeps_at(dilution).is_some()
        || solution.has_capacity_at(dilution);
    if is_limited || solution.is_fixer_without_capacity() {
        return None;
    }
    let message = format!("'{name}' has no limit: '{}' has no capacity and no keeping time", solution.name);
    let help = format!("add to the solution: treats 12 rolls per 1 l at {dilution}; or: keeps 3 months");
    Some(RULE.found(bath.span, message).other(solution.span, "the solution").help(help))
}
