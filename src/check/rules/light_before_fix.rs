//! The rule `light-before-fix`.

use super::*;

rule! {
    /// # light-before-fix: light before the film is fixed
    ///
    /// `light safe` is in a step before the film is fixed, bleach-fixed or, for a reversal, bleached.
    ///
    /// **Why.** Until then the film has undeveloped silver salts, and light blackens them.
    ///
    /// ```fires
    /// wetside 1
    /// recipe wrong {
    ///     develop {
    ///         in        water
    ///         time      10:00
    ///         between   18 C and 24 C
    ///         light     safe
    ///     }
    /// }
    /// ```
    ///
    /// **Instead.** Keep the lid on until the fixer is in.
    ///
    /// ```quiet
    /// wetside 1
    /// recipe right {
    ///     develop {
    ///         in        water
    ///         time      10:00
    ///         between   18 C and 24 C
    ///     }
    ///     fix {
    ///         in        water
    ///         time      5:00
    ///     }
    ///     wash {
    ///         time      10:00
    ///         light     safe
    ///     }
    /// }
    /// ```
    ///
    /// **Source.** US Army subcourse SS0509, page 24: room light after two minutes in the fixer.
    Error never lifted, Recipe(check)
}

fn check(recipe: &Recipe) -> Vec<Diagnostic> {
    let saves = |step: &Step| {
        step.role() == Some(Role::Monobath)
            || matches!(step.kind, StepKind::Fix | StepKind::BleachFix | StepKind::Bleach)
    };
    let before = recipe.steps.iter().take_while(|step| !saves(step));
    let found = before.filter_map(|step| step.light_safe).map(|span| {
        RULE.found(span, "the film is not fixed yet, and light would blacken it")
            .help("put 'light safe' in the fixing step or after it")
    });
    found.collect()
}
