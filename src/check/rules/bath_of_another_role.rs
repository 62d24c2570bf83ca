//! The rule `bath-of-another-role`.

use super::*;

rule! {
    /// # bath-of-another-role: a step in a solution with another role
    ///
    /// The `role` of the solution does not suit the step, as in a development in a fixer or a stop in a developer.
    ///
    /// **Why.** The wrong bath destroys the film. Film that is fixed before development is blank. Film that is never
    /// fixed goes black.
    ///
    /// ```fires
    /// wetside 1
    /// solution fixer {
    ///     role      fixer
    /// }
    /// recipe wrong {
    ///     develop {
    ///         in        fixer 1+4, one-shot
    ///         time      10:00
    ///         between   18 C and 24 C
    ///     }
    /// }
    /// ```
    ///
    /// **Instead.** Name the right solution, or correct its `role`.
    ///
    /// ```quiet
    /// wetside 1
    /// solution dev {
    ///     role      developer
    /// }
    /// recipe right {
    ///     develop {
    ///         in        dev 1+4, one-shot
    ///         time      10:00
    ///         between   18 C and 24 C
    ///     }
    /// }
    /// ```
    ///
    /// **Source.** Common practice, no source.
    Error, Step(check)
}

fn check(step: &Step) -> Option<Diagnostic> {
    // A used bath is not reported, because it may serve another purpose than its role: used developer can be a stain
    // bath.
    let (bath, solution) = step.bath.as_ref().filter(|bath| bath.used.is_none()).zip(step.solution())?;
    let role = solution.role.filter(|role| *role != Role::Treatment || step.kind == StepKind::Develop)?;
    let fit = roles(step.kind);
    let wanted = fit.first().filter(|_| !fit.contains(&role))?.word();
    let name = &solution.name;
    let message = format!("the step {} is in {name}, whose role is {}", step.title(), role.word());
    Some(
        RULE.found(bath.span, message)
            .other(solution.span, "the solution")
            .help(format!("name a solution with: role {wanted}; or correct the role of {name}")),
    )
}

/// The roles of solutions that suit a step, the usual role first; empty for a step that needs no solution.
fn roles(kind: StepKind) -> &'static [Role] {
    use Role::*;
    match kind {
        StepKind::Develop => &[Developer, Monobath, Fogging, Toner],
        StepKind::Stop => &[Stop, Hardener, Clearing, Fixer],
        StepKind::Fix => &[Fixer, Monobath],
        StepKind::Bleach => &[Bleach, BleachFix, Toner],
        StepKind::BleachFix => &[BleachFix],
        StepKind::Clear => &[Clearing, Stop, Fixer, Hardener, Wetting, Stabilizer],
        StepKind::Tone => &[Toner, Bleach, Developer, Fogging, Stabilizer],
        StepKind::Presoak => &[Wetting, Hardener, Clearing, Developer],
        StepKind::Expose => &[Fogging, Developer],
        StepKind::Wash | StepKind::Rinse => &[Wetting, Stabilizer, Clearing, Hardener, Stop],
        StepKind::Coat => &[Treatment],
        StepKind::Warm | StepKind::Rest | StepKind::Dry => &[],
    }
}
