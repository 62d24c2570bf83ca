//! The rule `derived-without-change`.

use super::*;

rule! {
    /// # derived-without-change: a derived recipe that changes nothing
    ///
    /// The film, index, steps, notes and cautions are those of the parent.
    ///
    /// **Why.** Anyone who chooses it expects a difference. Usually a statement is missing, or is in the wrong
    /// recipe.
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
    /// }
    /// ```
    ///
    /// **Instead.** Add the difference, or use the parent.
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
    Advice, Derived(check)
}

fn check(recipe: &Recipe, parent: &Recipe) -> Option<Diagnostic> {
    fn wording(step: &Step) -> impl PartialEq {
        let of_scheme = step.agitation.as_ref().map(|scheme| &scheme.value.notes);
        (&step.notes, &step.cautions, of_scheme)
    }
    let same = (&recipe.notes, &recipe.cautions) == (&parent.notes, &parent.cautions)
        && recipe.steps.iter().map(wording).eq(parent.steps.iter().map(wording))
        && recipe.has_facts_of(parent);
    same.then(|| {
        let message = format!("'{}' is the same as its parent '{}'", recipe.name, parent.name);
        RULE.found(recipe.span, message)
            .other(parent.span, "its parent")
            .help(format!("write what differs, or remove this recipe and use {}", parent.name))
    })
}
