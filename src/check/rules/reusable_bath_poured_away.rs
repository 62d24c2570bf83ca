//! The rule `reusable-bath-poured-away`.

use super::*;

rule! {
    /// # reusable-bath-poured-away: a reusable bath used once
    ///
    /// A developer, fixer or bleach-fix is used undiluted and once, and its solution has a capacity or a
    /// replenisher. A developer in a rotating drum is skipped: air exhausts it.
    ///
    /// **Why.** Fresh solution costs money, and a fixer that is discarded early carries silver that is not recovered.
    ///
    /// ```fires
    /// wetside 1
    /// solution fixer {
    ///     role      fixer
    ///     treats    10 rolls per 1 l at stock
    /// }
    /// recipe wrong {
    ///     fix {
    ///         in        fixer stock, one-shot
    ///         time      5:00
    ///     }
    /// }
    /// ```
    ///
    /// **Instead.** Reuse it.
    ///
    /// ```quiet
    /// wetside 1
    /// solution fixer {
    ///     role      fixer
    ///     treats    10 rolls per 1 l at stock
    /// }
    /// recipe right {
    ///     fix {
    ///         in        fixer stock, reused
    ///         time      5:00
    ///     }
    /// }
    /// ```
    ///
    /// **Source.** Common practice, no source.
    Advice, Step(check)
}

fn check(step: &Step) -> Option<Diagnostic> {
    let (bath, solution) = step.bath.as_ref().zip(step.solution())?;
    let dear = match solution.role? {
        Role::Developer => !step.agitation.as_ref().is_some_and(|it| matches!(it.value.pulse, Pulse::Rotary(_))),
        Role::Fixer | Role::BleachFix => true,
        _ => false,
    };
    let once = bath.reuse == Some(Use::OneShot) && bath.dilution.water == 0;
    let mut treats = solution.treats.iter();
    let treats = treats.find(|treats| treats.at.as_ref().is_none_or(|at| *at == bath.dilution));
    let keeps = solution.replenish.map(|stated| stated.span).or(treats.map(|treats| treats.span))?;
    (dear && once).then(|| {
        let message = format!("{} is poured away, and could treat more rolls", solution.name);
        RULE.found(bath.span, message)
            .other(keeps, "the capacity")
            .help("put 'reused' in place of 'one-shot'")
    })
}
