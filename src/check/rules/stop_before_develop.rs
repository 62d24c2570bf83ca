//! A stop bath before anything was developed.

use crate::model::{Recipe, StepKind};
use crate::source::Diagnostic;

rule! {
    /// # stop-before-develop
    ///
    /// **What.** A stop bath comes before the first development.
    ///
    /// **Why.** Its acid is carried over into the developer, which works by alkali: the film comes out
    /// thin or blank, and the developer is spoilt.
    ///
    /// ```fires
    /// wetside 1
    /// recipe wrong {
    ///     stop {
    ///         in        water
    ///         time      1:00
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
    ///     stop {
    ///         in        water
    ///         time      1:00
    ///     }
    /// }
    /// ```
    ///
    /// **Source.** US Army subcourse SS0509, page 14: the stop bath neutralises the developer.
    "stop-before-develop", Error, "a stop bath before the first development", Recipe(look)
}

fn look(recipe: &Recipe, faults: &mut Vec<Diagnostic>) {
    let Some(at) = recipe.steps.iter().position(|step| step.kind == StepKind::Develop) else { return };
    let develop = recipe.steps.get(at).map_or(recipe.span, |step| step.span);
    for step in recipe.steps.iter().take(at).filter(|step| step.kind == StepKind::Stop) {
        let message = format!("the step {} comes before there is anything to stop", step.title());
        faults.push(
            RULE.found(step.span, message)
                .other(develop, "development comes only here")
                .help("move it behind the development"),
        );
    }
}
