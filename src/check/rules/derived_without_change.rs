//! A recipe that is another by another name.

use crate::model::{Recipe, Step};
use crate::source::Diagnostic;

rule! {
    /// # derived-without-change
    ///
    /// **What.** A recipe is derived from another and has the same film, index and steps, with the same remarks and
    /// cautions.
    ///
    /// **Why.** Whoever picks it expects something else than the parent gives. Mostly a statement was forgotten, or
    /// stands in the wrong recipe.
    ///
    /// ```fires
    /// wetside 1
    /// recipe normal {
    ///     stop {
    ///         in        water
    ///         time      1:00
    ///     }
    /// }
    /// recipe longer from normal {
    ///     stop {
    ///         time      1:00
    ///     }
    /// }
    /// ```
    ///
    /// **Instead.** Say what is different, or use the parent.
    ///
    /// ```quiet
    /// wetside 1
    /// recipe normal {
    ///     stop {
    ///         in        water
    ///         time      1:00
    ///     }
    /// }
    /// recipe longer from normal {
    ///     stop {
    ///         time      2:00
    ///     }
    /// }
    /// ```
    ///
    /// **Source.** Common practice, no source.
    "derived-without-change", Warning, "a derived recipe that changes nothing", Derived(look)
}

fn look(recipe: &Recipe, parent: &Recipe, faults: &mut Vec<Diagnostic>) {
    let remarks = |step: &Step| {
        let of_scheme = step.agitation.as_ref().map(|scheme| scheme.value.notes.clone());
        (step.notes.clone(), step.cautions.clone(), of_scheme)
    };
    let steps = |recipe: &Recipe| recipe.steps.iter().map(remarks).collect::<Vec<_>>();
    let same = recipe.facts() == parent.facts()
        && (&recipe.notes, &recipe.cautions) == (&parent.notes, &parent.cautions)
        && steps(recipe) == steps(parent);
    if same {
        let message = format!("'{}' does all that '{}' does, and nothing else", recipe.name, parent.name);
        faults.push(
            RULE.found(recipe.span, message)
                .other(parent.span, "what it is derived from")
                .help(format!("say what is different, or take it out and use {}", parent.name)),
        );
    }
}
