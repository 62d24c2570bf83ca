//! The rule `weak-developer-kept`.

use super::*;

rule! {
    /// # weak-developer-kept: a dilute developer that is reused
    ///
    /// It has at least three parts of water, and its solution has neither a capacity at that dilution nor a
    /// replenisher.
    ///
    /// **Why.** A dilute developer has little sulfite to preserve it. After one film it is exhausted, and after a day
    /// it is dead.
    ///
    /// ```fires
    /// wetside 1
    /// solution dev {
    ///     role      developer
    /// }
    /// recipe wrong {
    ///     develop {
    ///         in        dev 1+9, reused
    ///         time      10:00
    ///         between   18 C and 24 C
    ///     }
    /// }
    /// ```
    ///
    /// **Instead.** Use it once, or state its capacity at that dilution in the solution.
    ///
    /// ```quiet
    /// wetside 1
    /// solution dev {
    ///     role      developer
    /// }
    /// recipe right {
    ///     develop {
    ///         in        dev 1+9, one-shot
    ///         time      10:00
    ///         between   18 C and 24 C
    ///     }
    /// }
    /// ```
    ///
    /// ```quiet
    /// wetside 1
    /// solution syrup {
    ///     role      developer
    ///     treats    10 rolls per 1 l at 1+4
    /// }
    /// recipe made-to-be-kept {
    ///     develop {
    ///         in        syrup 1+4, reused
    ///         time      8:00
    ///         between   18 C and 24 C
    ///     }
    /// }
    /// ```
    ///
    /// **Source.** Common practice, no source.
    Warning, Step(check)
}

fn check(step: &Step) -> Option<Diagnostic> {
    let (bath, solution) = step.bath.as_ref().zip(step.solution()).filter(|_| is_weak(step))?;
    let (name, dilution) = (&solution.name, &bath.dilution);
    let message = format!("{name} at {dilution} is exhausted after one use");
    Some(RULE.found(bath.span, message).other(solution.span, "the solution").help(format!(
        "put 'one-shot' after the dilution; or add to the solution: treats 10 rolls per 1 l at {dilution}"
    )))
}

/// Whether this rule reports the bath of a step. If so, `reused-without-capacity` does not report it.
pub(super) fn is_weak(step: &Step) -> bool {
    let Some((bath, solution)) = step.bath.as_ref().zip(step.solution()) else { return false };
    let parts = bath.dilution.whole() - bath.dilution.water;
    solution.role == Some(Role::Developer)
        && bath.reuse.is_some_and(Use::is_kept)
        && parts.saturating_mul(3) <= bath.dilution.water
        && solution.replenish.is_none()
        && !solution.has_capacity_at(&bath.dilution)
}
