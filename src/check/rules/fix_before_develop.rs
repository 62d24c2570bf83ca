//! The rule `fix-before-develop`.

use super::*;

rule! {
    /// # fix-before-develop: a fixer, a bleach or a bleach-fix before the first development
    ///
    /// **Why.** It dissolves the silver salts that hold the picture. Nothing is left to develop.
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
    /// **Instead.** Develop first. For film and prints that were processed before, write `light room` at the head of the
    /// recipe; in edition 1, write `light safe` in the bleach, or before the fixer. The rule then skips them.
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
    /// ```quiet
    /// wetside 1
    /// recipe redeveloped-print {
    ///     bleach {
    ///         in        water
    ///         time      2:00
    ///         light     safe
    ///     }
    ///     develop {
    ///         in        water
    ///         time      4:00
    ///         between   18 C and 24 C
    ///     }
    /// }
    /// ```
    ///
    /// **Source.** US Navy, Photography (Basic), NAVEDTRA 14209, 1993, chapter 10: the order of processing.
    Error, Recipe(check)
}

fn check(recipe: &Recipe) -> Vec<Diagnostic> {
    let first = recipe.steps.iter().position(|step| step.kind == StepKind::Develop);
    let Some(develop) = first.and_then(|at| recipe.steps.get(at)) else { return Vec::new() };
    if super::light_before_fix::is_processed(recipe) {
        return Vec::new();
    }
    let before = recipe.steps.iter().take_while(|step| step.kind != StepKind::Develop);
    let misplaced =
        before.filter(|step| matches!(step.kind, StepKind::Fix | StepKind::Bleach | StepKind::BleachFix));
    let found = misplaced.map(|step| {
        let message = format!("the step {} would destroy the picture before it is developed", step.title());
        RULE.found(step.span, message)
            .other(develop.span, "the first development")
            .help("move the development before this step")
            .help("or, if the picture is already fixed, begin the recipe, in a file of wetside 2, with the line: light room")
    });
    found.collect()
}
