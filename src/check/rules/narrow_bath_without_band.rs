//! The rule `narrow-bath-without-band`.

use super::*;

rule! {
    /// # narrow-bath-without-band: a bleach-fix or a hot developer without a tolerance
    ///
    /// A hot developer is at 30 °C or more. The tolerance is `within` or `between`, in the step or in the recipe.
    ///
    /// **Why.** Their times hold at one temperature. A cold bleach-fix leaves silver in the picture; a hot
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
    /// }
    /// ```
    ///
    /// **Source.** Common practice, no source.
    Warning, Step(check)
}

fn check(step: &Step) -> Option<Diagnostic> {
    let bleach_fix = step.kind == StepKind::BleachFix || step.role() == Some(Role::BleachFix);
    let hot = step.kind == StepKind::Develop && step.at.is_some() && step.is_hot();
    (step.band.is_none() && (bleach_fix || hot)).then(|| {
        let message = format!("the step {} does not say how far its temperature may be off", step.title());
        let example = if hot { "within 0.3 C" } else { "between 35 C and 40 C" };
        RULE.found(step.span, message).help(format!("add a line such as: {example}"))
    })
}
