//! Soaking or tempering after development has begun.

use crate::model::{Recipe, StepKind};
use crate::source::Diagnostic;

rule! {
    /// # develop-before-presoak
    ///
    /// **What.** A presoak, or the tempering of the dry tank, comes after the first development.
    ///
    /// **Why.** Both prepare dry film for its first bath. After a bath the tank is wet, and water poured in
    /// there goes on developing, thinly and unevenly.
    ///
    /// ```fires
    /// wetside 1
    /// recipe wrong {
    ///     develop {
    ///         in        water
    ///         time      10:00
    ///         between   18 C and 24 C
    ///     }
    ///     presoak {
    ///         time      2:00
    ///     }
    /// }
    /// ```
    ///
    /// **Instead.** Put it first; for water between two baths write a wash, or a stop in water.
    ///
    /// ```quiet
    /// wetside 1
    /// recipe right {
    ///     presoak {
    ///         time      2:00
    ///     }
    ///     develop {
    ///         in        water
    ///         time      10:00
    ///         between   18 C and 24 C
    ///     }
    /// }
    /// ```
    ///
    /// **Source.** Common practice, no source.
    "develop-before-presoak", Error, "a presoak or a tempering after the first development", Recipe(look)
}

fn look(recipe: &Recipe, faults: &mut Vec<Diagnostic>) {
    let Some(at) = recipe.steps.iter().position(|step| step.kind == StepKind::Develop) else { return };
    let develop = recipe.steps.get(at).map_or(recipe.span, |step| step.span);
    let prepares = |kind: StepKind| matches!(kind, StepKind::Warm | StepKind::Presoak);
    for step in recipe.steps.iter().skip(at).filter(|step| prepares(step.kind)) {
        let message = format!("the step {} prepares dry film, and stands after a bath", step.title());
        faults.push(
            RULE.found(step.span, message)
                .other(develop, "the first development")
                .help("move it to the front, or write a wash in its place"),
        );
    }
}
