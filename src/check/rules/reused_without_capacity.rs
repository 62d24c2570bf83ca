//! The rule `reused-without-capacity`.

use super::*;

rule! {
    /// # reused-without-capacity: a reused bath without a capacity
    ///
    /// The solution has no capacity at that dilution. A replenished bath may have a replenisher instead.
    /// `fixer-without-capacity` reports a fixer without any capacity. The finding is advice for a stop, a clearing
    /// bath, a hardener, a stabilizer and wetting agent, whose exhaustion spoils no picture.
    ///
    /// **Why.** An exhausted bath looks like a fresh one. Only a count of rolls shows it, and without a capacity
    /// there is no limit for the count.
    ///
    /// ```fires
    /// wetside 1
    /// solution fixer {
    ///     role      fixer
    ///     treats    10 rolls per 1 l at 1+4
    /// }
    /// recipe wrong {
    ///     fix {
    ///         in        fixer 1+9, reused
    ///         time      5:00
    ///     }
    /// }
    /// ```
    ///
    /// **Instead.** State in the solution what it treats.
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
    /// **Source.** US Navy, Photography (Basic), NAVEDTRA 14209, 1993, chapter 10: the life of a fixing bath.
    /// Developers: common practice, no source.
    Warning or Advice, Step(check)
}

fn check(step: &Step) -> Option<Diagnostic> {
    let (bath, solution) = step.bath.as_ref().zip(step.solution())?;
    let counted = match bath.reuse? {
        Use::Reused => false,
        Use::Replenished => solution.replenish.is_some(),
        Use::OneShot => true,
    };
    let is_reported = super::weak_developer_kept::is_weak(step) || solution.is_fixer_without_capacity();
    if counted || is_reported || solution.has_capacity_at(&bath.dilution) {
        return None;
    }
    let message = format!("the capacity of {} {} is not stated", solution.name, bath.dilution);
    let help = format!("add to the solution, with your own number: treats 10 rolls per 1 l at {}", bath.dilution);
    use Role::{Clearing, Hardener, Stabilizer, Stop, Wetting};
    let is_mild = matches!(solution.role, Some(Stop | Clearing | Hardener | Stabilizer | Wetting));
    Some(RULE.weighed(is_mild, solution.span, message).other(bath.span, "reused here").help(help))
}
