//! A bath used until a film shows that it is spent.

use super::weak_developer_kept;
use crate::model::{Recipe, Use};
use crate::source::Diagnostic;

rule! {
    /// # reused-without-capacity
    ///
    /// **What.** A bath is said to be reused, and its solution does not say how many rolls it treats at that
    /// strength; or replenished, and neither that nor what to add after a roll.
    ///
    /// **Why.** A spent bath looks like a fresh one. Only a count tells, and there is nothing to count against.
    ///
    /// ```fires
    /// wetside 1
    /// solution fixer {
    ///     role      fixer
    /// }
    /// recipe wrong {
    ///     fix {
    ///         in        fixer 1+4, reused
    ///         time      5:00
    ///     }
    /// }
    /// ```
    ///
    /// **Instead.** Say in the solution what it treats.
    ///
    /// ```quiet
    /// wetside 1
    /// solution fixer {
    ///     role      fixer
    ///     treats    10 rolls per 1 l at 1+4
    /// }
    /// recipe right {
    ///     fix {
    ///         in        fixer 1+4, reused
    ///         time      5:00
    ///     }
    /// }
    /// ```
    ///
    /// **Source.** US Army subcourse SS0514: without replenishment the time is raised for each batch, so the
    /// batches are counted.
    "reused-without-capacity", Warning, "a bath that is kept, and nothing says for how long", Recipe(look)
}

fn look(recipe: &Recipe, faults: &mut Vec<Diagnostic>) {
    for step in recipe.steps.iter().filter(|step| !weak_developer_kept::is_told(step)) {
        let (Some(bath), Some(solution)) = (&step.bath, step.solution()) else { continue };
        let tells = match bath.fate {
            Some(Use::Reused) => false,
            Some(Use::Replenished) => solution.replenish.is_some(),
            Some(Use::OneShot) | None => true,
        };
        if tells || solution.has_capacity_at(&bath.dilution) {
            continue;
        }
        let message = format!("nothing says how many rolls {} {} is good for", solution.name, bath.dilution);
        faults.push(RULE.found(bath.span, message).other(solution.span, "the solution").help(format!(
            "add to the solution, with your own figure: treats 10 rolls per 1 l at {}",
            bath.dilution
        )));
    }
}
