//! Fixing, or bleach-fixing, before anything was developed.

use crate::model::{Recipe, StepKind};
use crate::source::Diagnostic;

rule! {
    /// # fix-before-develop
    ///
    /// **What.** A fixer, a bleach or a bleach-fix comes before the first development.
    ///
    /// **Why.** It dissolves the silver salts that carry the picture. Nothing is left to develop.
    ///
    /// ```fires
    /// wetside 1
    /// recipe wrong {
    ///     fix {
    ///         in        water
    ///         time      5:00
    ///     }
    ///     develop {
    ///         in        water
    ///         time      10:00
    ///         between   18 C and 24 C
    ///     }
    /// }
    /// ```
    ///
    /// **Instead.** Develop first.
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
    /// }
    /// ```
    ///
    /// **Source.** NAVEDTRA 14209, Photography (Basic), chapter 10: the order of processing.
    "fix-before-develop", Error, "a fixer, a bleach or a bleach-fix before the first development", Recipe(look)
}

fn look(recipe: &Recipe, faults: &mut Vec<Diagnostic>) {
    let destroys = |kind: StepKind| matches!(kind, StepKind::Fix | StepKind::Bleach | StepKind::BleachFix);
    let Some(at) = recipe.steps.iter().position(|step| step.kind == StepKind::Develop) else { return };
    let develop = recipe.steps.get(at).map_or(recipe.span, |step| step.span);
    for step in recipe.steps.iter().take(at).filter(|step| destroys(step.kind)) {
        let message = format!("the step {} would destroy the picture before it is developed", step.title());
        faults.push(
            RULE.found(step.span, message)
                .other(develop, "development comes only here")
                .help("move the development before it"),
        );
    }
}
