//! A sensitive bath without a tolerance.

use super::*;

rule! {
    /// # narrow-bath-without-band
    ///
    /// **What.** A bleach-fix, or a development at 30 °C or more, has neither `within` nor `between`, and neither has
    /// the recipe.
    ///
    /// **Why.** Their times hold at their temperature only. A cold bleach-fix leaves silver in the picture; a hot
    /// developer that is a degree off shifts the colours.
    ///
    /// ```fires
    /// wetside 1
    /// solution bleach-fixer {
    ///     role      bleach-fix
    /// }
    /// recipe wrong {
    ///     bleach-fix {
    ///         in        bleach-fixer stock, one-shot
    ///         time      6:30
    ///     }
    ///     wash {
    ///         soak      1:00 x 6
    ///     }
    /// }
    /// ```
    ///
    /// **Instead.** State the allowed temperatures.
    ///
    /// ```quiet
    /// wetside 1
    /// solution bleach-fixer {
    ///     role      bleach-fix
    /// }
    /// recipe right {
    ///     bleach-fix {
    ///         in        bleach-fixer stock, one-shot
    ///         time      6:30
    ///         between   35 C and 40 C
    ///     }
    ///     wash {
    ///         soak      1:00 x 6
    ///     }
    /// }
    /// ```
    ///
    /// **Source.** Common practice, no source.
    "narrow-bath-without-band", Warning, "a bleach-fix or a hot developer without a tolerance", Step(check)
}

fn check(step: &Step) -> Option<Diagnostic> {
    let bleach_fix = step.kind == StepKind::BleachFix || step.role() == Some(Role::BleachFix);
    let hot = step.kind == StepKind::Develop && step.at.is_some() && step.is_hot();
    let message = format!("the step {} needs a tolerance for its temperature", step.title());
    let example = if hot { "within 0.3 C" } else { "between 35 C and 40 C" };
    (step.band.is_none() && (bleach_fix || hot))
        .then(|| RULE.found(step.span, message).help(format!("add a line such as: {example}")))
}
