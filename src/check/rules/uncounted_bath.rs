//! A bath in its bottle of which nobody can say when it is spent.

use crate::model::{Darkroom, KeptBath, Role};
use crate::source::Diagnostic;

rule! {
    /// # uncounted-bath
    ///
    /// **What.** A bath is kept in a bottle, and its solution says neither how many rolls it `treats` at that strength, nor how its time is drawn out with `extend`, nor what it is given with `replenish`, nor how long it `keeps`. A fixer that does not say how many rolls it treats is told of by `fixer-without-capacity` already.
    ///
    /// **Why.** A bottle is written down so that it can be said when it is done. Of this one nothing can be counted, however faithfully its sessions are told.
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
    /// **Instead.** Say how far it goes or how long it keeps.
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
    "uncounted-bath", Advice, "a bath of which nothing says when it is spent", Darkroom(look)
}

fn look(darkroom: &Darkroom, faults: &mut Vec<Diagnostic>) {
    for bath in darkroom.bottles().filter(|bath| nothing_counts(bath)) {
        let (name, solution) = (&bath.name, &bath.solution);
        let message = format!("nothing says when '{name}' is spent: '{}' has no capacity and no keeping", solution.name);
        let help = format!("add to the solution a line such as: treats 12 rolls per 1 l at {}; or: keeps 3 months", bath.dilution);
        faults.push(RULE.found(bath.span, message).other(solution.span, "the solution").help(help));
    }
}

fn nothing_counts(bath: &KeptBath) -> bool {
    let solution = &bath.solution;
    let told_already =
        matches!(solution.role, Some(Role::Fixer | Role::BleachFix)) && solution.treats.is_empty();
    let is_replenished = solution.extend.is_some() || solution.replenish.is_some();
    !(told_already || is_replenished || solution.has_capacity_at(&bath.dilution) || solution.keeps.is_some())
}
