//! The rule `strong-wetting-agent`.

use super::*;

rule! {
    /// # strong-wetting-agent: wetting agent stronger than 1+50
    ///
    /// An undiluted solution with a formula is skipped, because it may be a working bath.
    ///
    /// **Why.** Too much wetting agent dries on the film as smears and streaks.
    ///
    /// ```fires
    /// wetside 1
    /// solution wetting {
    ///     role      wetting
    /// }
    /// recipe wrong {
    ///     rinse {
    ///         in        wetting 1+20, one-shot
    ///         time      30 s
    ///         agitate   none
    ///     }
    /// }
    /// ```
    ///
    /// **Instead.** Dilute it as its label says, usually 1+200.
    ///
    /// ```quiet
    /// wetside 1
    /// solution wetting {
    ///     role      wetting
    /// }
    /// recipe right {
    ///     rinse {
    ///         in        wetting 1+200, one-shot
    ///         time      30 s
    ///         agitate   none
    ///     }
    /// }
    /// ```
    ///
    /// **Source.** Wetting agent is diluted 1+100 to 1+600, usually 1+200: from memory, not looked up.
    Warning, Step(check)
}

/// The least parts of water to one part of wetting agent.
const LEAST: u32 = 50;

fn check(step: &Step) -> Option<Diagnostic> {
    let (bath, solution) = step.bath.as_ref().zip(step.solution())?;
    let dilution = &bath.dilution;
    let parts = dilution.whole() - dilution.water;
    let is_mixed = dilution.water == 0 && !solution.formulas.is_empty();
    let is_strong = dilution.water < parts.saturating_mul(LEAST);
    (solution.role == Some(Role::Wetting) && is_strong && !is_mixed).then(|| {
        let message = format!("{} at {dilution} is stronger than any published; usual is 1+200", solution.name);
        RULE.found(bath.span, message).help("check the dilution on its label, such as: 1+200")
    })
}
