//! The rule `foaming-agitation`.

use super::*;

rule! {
    /// # foaming-agitation: continuous agitation of wetting agent
    ///
    /// This includes the agitation of a drum.
    ///
    /// **Why.** Wetting agent foams. Bubbles dry on the film as rings, and foam stays in the reels and gets into the
    /// next developer.
    ///
    /// ```fires
    /// wetside 1
    /// solution wetting {
    ///     role      wetting
    /// }
    /// recipe wrong {
    ///     rinse {
    ///         in        wetting 1+200, one-shot
    ///         time      30 s
    ///         agitate   continuous
    ///     }
    /// }
    /// ```
    ///
    /// **Instead.** Let it stand, or lift the reels once.
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
    /// **Source.** Common practice, no source.
    Advice, Step(check)
}

fn check(step: &Step) -> Option<Diagnostic> {
    let agitation = step.agitation.as_ref().filter(|_| step.role() == Some(Role::Wetting))?;
    matches!(agitation.value.pulse, Pulse::Continuous | Pulse::Rotary(_)).then(|| {
        RULE.found(agitation.span, "wetting agent foams under continuous agitation")
            .help("write: agitate none")
            .choice(agitation.span, "agitate none")
    })
}
