//! A reused bath without its capacity.

use super::*;

rule! {
    /// # reused-without-capacity
    ///
    /// **What.** A bath is said to be reused, and its solution does not say how many rolls it treats at that
    /// strength; or replenished, and neither that nor what to add after a roll.
    ///
    /// **Why.** A spent bath looks like a fresh one. Only a count tells, and there is nothing to count against.
    ///
    /// ```fires
    /// wetside 1
    /// solution fixer {
    ///     role      fixer
    /// }
    /// recipe wrong {
    ///     fix {
    ///         in        fixer 1+4, reused
    ///         time      5:00
    ///     }
    /// }
    /// ```
    ///
    /// **Instead.** Say in the solution what it treats.
    ///
    /// ```quiet
    /// wetside 1
    /// solution fixer {
    ///     role      fixer
    ///     treats    10 rolls per 1 l at 1+4
    /// }
    /// recipe right {
    ///     fix {
    ///         in        fixer 1+4, reused
    ///         time      5:00
    ///     }
    /// }
    /// ```
    ///
    /// **Source.** US Army subcourse SS0514: without replenishment the time is raised for each batch, so the
    /// batches are counted.
    "reused-without-capacity", Warning, "a bath that is kept, and nothing says for how long", Step(check)
}

fn check(step: &Step) -> Option<Diagnostic> {
    let (bath, solution) = step.bath.as_ref().zip(step.solution())?;
    let counted = match bath.fate? {
        Use::Reused => false,
        Use::Replenished => solution.replenish.is_some(),
        Use::OneShot => true,
    };
    if counted || super::weak_developer_kept::is_weak(step) || solution.has_capacity_at(&bath.dilution) {
        return None;
    }
    let message = format!("the capacity of {} {} is not stated", solution.name, bath.dilution);
    let help = format!("add to the solution, with your own number: treats 10 rolls per 1 l at {}", bath.dilution);
    Some(RULE.found(bath.span, message).other(solution.span, "the solution").help(help))
}
