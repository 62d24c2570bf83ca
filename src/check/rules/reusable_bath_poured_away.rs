//! A reusable bath used once.

use super::*;

rule! {
    /// # reusable-bath-poured-away
    ///
    /// **What.** A developer, fixer or bleach-fix is used undiluted and once, and its solution says how many rolls
    /// it treats, or what replenishes it. A developer in a turning drum is not looked at: air spends it there.
    ///
    /// **Why.** It does no harm to the film. It costs, and a fixer poured away young carries silver that nobody
    /// takes out.
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
    /// **Instead.** Say that it is reused.
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
    "reusable-bath-poured-away", Advice, "a bath used once that is made to be used again", Step(check)
}

fn check(step: &Step) -> Option<Diagnostic> {
    let (bath, solution) = step.bath.as_ref().zip(step.solution())?;
    let dear = match solution.role? {
        Role::Developer => !step.agitation.as_ref().is_some_and(|it| matches!(it.value.pulse, Pulse::Rotary(_))),
        Role::Fixer | Role::BleachFix => true,
        _ => false,
    };
    let once = bath.fate == Some(Use::OneShot) && bath.dilution.water == 0;
    let mut treats = solution.treats.iter();
    let treats = treats.find(|treats| treats.at.as_ref().is_none_or(|at| *at == bath.dilution));
    let keeps = solution.replenish.map(|stated| stated.span).or(treats.map(|treats| treats.span))?;
    let message = format!("{} is poured away, and could treat more rolls", solution.name);
    (dear && once).then(|| {
        RULE.found(bath.span, message)
            .other(keeps, "its capacity")
            .help("put 'reused' in place of 'one-shot'")
    })
}
