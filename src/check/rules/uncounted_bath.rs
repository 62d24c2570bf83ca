//! A bath without a capacity or a keeping time.

use super::*;

rule! {
    /// # uncounted-bath
    ///
    /// **What.** A bath is kept in a bottle, and its solution has no capacity (`treats`) at that dilution, no
    /// `extend`, no `replenish` and no `keeps`. A fixer without a capacity is reported by `fixer-without-capacity`.
    ///
    /// **Why.** A bottle is recorded to know when it is exhausted. Nothing limits this one, however carefully its
    /// sessions are recorded.
    ///
    /// ```fires
    /// wetside 1
    /// solution citric-stop {
    ///     role      stop
    ///     contains  citric-acid
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
    ///     contains  citric-acid
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
    "uncounted-bath", Advice, "a bath without a capacity or a keeping time", Darkroom(check)
}

fn check(darkroom: &Darkroom) -> Vec<Diagnostic> {
    let found = darkroom.bottles().filter_map(|bath| {
        let (name, solution) = (&bath.name, &bath.solution);
        let replenished = solution.extend.is_some() || solution.replenish.is_some();
        let counted = replenished || solution.has_capacity_at(&bath.dilution) || solution.keeps.is_some();
        if counted || solution.is_fixer_without_capacity() {
            return None;
        }
        let message =
            format!("'{name}' is never exhausted: '{}' has no capacity and no keeping time", solution.name);
        let help = format!(
            "add to the solution a line such as: treats 12 rolls per 1 l at {}; or: keeps 3 months",
            bath.dilution
        );
        Some(RULE.found(bath.span, message).other(solution.span, "the solution").help(help))
    });
    found.collect()
}
