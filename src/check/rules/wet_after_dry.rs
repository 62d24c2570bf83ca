//! Anything after drying.

use crate::model::{Recipe, StepKind};
use crate::source::Diagnostic;

rule! {
    /// # wet-after-dry
    ///
    /// **What.** A step follows the drying of the film.
    ///
    /// **Why.** Drying ends the work: the tank is empty, the film hangs. A step after it stands in the wrong
    /// place, and its time would be counted after hours of drying.
    ///
    /// ```fires
    /// wetside 1
    /// recipe wrong {
    ///     dry {
    ///         time      3 h
    ///     }
    ///     rinse {
    ///         in        water
    ///         time      30 s
    ///     }
    /// }
    /// ```
    ///
    /// **Instead.** Dry last.
    ///
    /// ```quiet
    /// wetside 1
    /// recipe right {
    ///     rinse {
    ///         in        water
    ///         time      30 s
    ///     }
    ///     dry {
    ///         time      3 h
    ///     }
    /// }
    /// ```
    ///
    /// **Source.** Common practice, no source.
    "wet-after-dry", Error, "a step after the drying", Recipe(look)
}

fn look(recipe: &Recipe, faults: &mut Vec<Diagnostic>) {
    let Some(at) = recipe.steps.iter().position(|step| step.kind == StepKind::Dry) else { return };
    let dry = recipe.steps.get(at).map_or(recipe.span, |step| step.span);
    for step in recipe.steps.iter().skip(at + 1) {
        faults.push(
            RULE.found(step.span, format!("the step {} comes after drying", step.title()))
                .other(dry, "the film is dry from here on")
                .help("move the drying to the end"),
        );
    }
}
