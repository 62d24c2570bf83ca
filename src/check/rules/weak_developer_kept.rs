//! A one-shot bath put back into its bottle.

use crate::model::{Recipe, Role, Step, Use};
use crate::source::Diagnostic;

rule! {
    /// # weak-developer-kept
    ///
    /// **What.** A developer let down with three parts of water and more is said to be reused or replenished, and
    /// the solution says neither what it treats at that strength nor what replenishes it.
    ///
    /// **Why.** There is little in it, and little sulfite to keep it. After one film it is spent, after a day it is
    /// dead; the next film comes out blank.
    ///
    /// ```fires
    /// wetside 1
    /// solution dev {
    ///     role      developer
    /// }
    /// recipe wrong {
    ///     develop {
    ///         in        dev 1+9, reused
    ///         time      10:00
    ///         between   18 C and 24 C
    ///     }
    /// }
    /// ```
    ///
    /// **Instead.** Use it once. If it is made to be kept at that strength, say in the solution how far it goes.
    ///
    /// ```quiet
    /// wetside 1
    /// solution dev {
    ///     role      developer
    /// }
    /// recipe right {
    ///     develop {
    ///         in        dev 1+9, one-shot
    ///         time      10:00
    ///         between   18 C and 24 C
    ///     }
    /// }
    /// ```
    ///
    /// ```quiet
    /// wetside 1
    /// solution syrup {
    ///     role      developer
    ///     treats    10 rolls per 1 l at 1+4
    /// }
    /// recipe made-to-be-kept {
    ///     develop {
    ///         in        syrup 1+4, reused
    ///         time      8:00
    ///         between   18 C and 24 C
    ///     }
    /// }
    /// ```
    ///
    /// **Source.** Common practice, no source.
    "weak-developer-kept", Warning, "a much diluted developer that is kept for another time", Recipe(look)
}

fn look(recipe: &Recipe, faults: &mut Vec<Diagnostic>) {
    for step in recipe.steps.iter().filter(|step| is_told(step)) {
        let (Some(bath), Some(solution)) = (&step.bath, step.solution()) else { continue };
        let message = format!("{} at {} is spent after one use", solution.name, bath.dilution);
        faults.push(RULE.found(bath.span, message).other(solution.span, "the solution").help(format!(
            "write: in {} {}, one-shot; or add to the solution: treats 10 rolls per 1 l at {}",
            solution.name, bath.dilution, bath.dilution
        )));
    }
}

/// Whether this rule tells of a step; its neighbour about capacity then keeps still.
pub(super) fn is_told(step: &Step) -> bool {
    let (Some(bath), Some(solution)) = (&step.bath, step.solution()) else { return false };
    let parts = bath.dilution.whole() - bath.dilution.water;
    solution.role == Some(Role::Developer)
        && bath.fate.is_some_and(Use::is_kept)
        && parts.saturating_mul(3) <= bath.dilution.water
        && solution.replenish.is_none()
        && !solution.has_capacity_at(&bath.dilution)
}
