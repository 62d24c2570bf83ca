//! The rule `light-before-fix`.

use super::*;

rule! {
    /// # light-before-fix: light before the film is fixed
    ///
    /// `light safe` is in a step before the film is fixed, bleach-fixed or, for a reversal, bleached, fogged or exposed
    /// again. The rule skips film and prints that were processed before: the recipe begins with a bleach, a toner or a
    /// fixer, and develops nothing or says `light safe` from there on.
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
    /// ```quiet
    /// wetside 1
    /// recipe toned-print {
    ///     bleach {
    ///         in        water
    ///         time      2:00
    ///         light     safe
    ///     }
    ///     tone {
    ///         in        water
    ///         time      2:00
    ///     }
    /// }
    /// ```
    ///
    /// **Source.** US Army subcourse SS0509, page 24: room light after two minutes in the fixer.
    Error never lifted, Recipe(check)
}

fn check(recipe: &Recipe) -> Vec<Diagnostic> {
    if is_processed(recipe) {
        return Vec::new();
    }
    let mut is_developed = false;
    let before = recipe.steps.iter().take_while(|step| {
        let is_exposed_again = is_developed && step.kind == StepKind::Expose;
        is_developed |= step.kind == StepKind::Develop;
        !is_exposed_again
            && !matches!(step.role(), Some(Role::Monobath | Role::Fogging))
            && !matches!(step.kind, StepKind::Fix | StepKind::BleachFix | StepKind::Bleach)
    });
    let found = before.filter_map(|step| step.light_safe).map(|span| {
        RULE.found(span, "the film is not fixed yet, and light would blacken it")
            .help("put 'light safe' in the fixing step or after it")
    });
    found.collect()
}

/// Whether a recipe is for film or prints that were developed and fixed before. Its first chemical bath bleaches, tones,
/// clears or fixes, and it develops nothing; or light is safe from that bath on, before it for a fixer.
pub(super) fn is_processed(recipe: &Recipe) -> bool {
    let is_chemical = |step: &Step| {
        step.is_in_liquid() && !matches!(step.kind, StepKind::Presoak | StepKind::Wash | StepKind::Rinse)
    };
    let Some(at) = recipe.steps.iter().position(is_chemical) else { return false };
    let (before, from) = recipe.steps.split_at(at);
    let Some(first) = from.first() else { return false };
    let develops = |step: &Step| {
        step.kind == StepKind::Develop && !matches!(step.role(), Some(Role::Toner | Role::Fogging))
    };
    let is_lit = |step: &Step| step.light_safe.is_some();
    match first.kind {
        StepKind::Develop | StepKind::Stop => false,
        _ if !from.iter().any(develops) || before.iter().any(is_lit) => true,
        StepKind::Fix | StepKind::BleachFix => false,
        _ => is_lit(first),
    }
}
