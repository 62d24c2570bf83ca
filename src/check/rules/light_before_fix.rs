//! Light while the film can still be fogged.

use crate::model::{Recipe, Role, Step, StepKind};
use crate::source::Diagnostic;

rule! {
    /// # light-before-fix
    ///
    /// **What.** `light safe` stands on a step before the film has been fixed, bleach-fixed or, for a reversal,
    /// bleached; or the recipe does none of these before it.
    ///
    /// **Why.** Until then it holds undeveloped silver salts, and light blackens them.
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
    ///     fix {
    ///         in        water
    ///         time      5:00
    ///     }
    /// }
    /// ```
    ///
    /// **Instead.** Let the lid stay on until the fixer is in.
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
    "light-before-fix", Error, "light is said to be safe before the film is fixed", Recipe(look)
}

fn look(recipe: &Recipe, faults: &mut Vec<Diagnostic>) {
    let saves = |step: &Step| {
        let monobath = step.bath.as_ref().and_then(|bath| bath.solution.as_ref()?.role) == Some(Role::Monobath);
        monobath || matches!(step.kind, StepKind::Fix | StepKind::BleachFix | StepKind::Bleach)
    };
    for step in recipe.steps.iter().take_while(|step| !saves(step)) {
        let Some(span) = step.light_safe else { continue };
        faults.push(
            RULE.found(span, "the film is not fixed yet, and light would blacken it")
                .help("say 'light safe' on the fixing step or after it"),
        );
    }
}
