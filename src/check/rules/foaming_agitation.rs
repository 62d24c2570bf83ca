//! Foam on the film.

use crate::model::{Pulse, Recipe, Role};
use crate::source::Diagnostic;

rule! {
    /// # foaming-agitation
    ///
    /// **What.** The bath with wetting agent is moved continuously or turned in a drum.
    ///
    /// **Why.** It foams. Bubbles cling to the film and dry as rings, and foam stays in the reels for the next
    /// film's developer.
    ///
    /// ```fires
    /// wetside 1
    /// solution wetting {
    ///     role      wetting
    /// }
    /// recipe wrong {
    ///     rinse {
    ///         in        wetting 1+200, one-shot
    ///         time      30 s
    ///         agitate   continuous
    ///     }
    /// }
    /// ```
    ///
    /// **Instead.** Let it stand, or lift the reels once.
    ///
    /// ```quiet
    /// wetside 1
    /// solution wetting {
    ///     role      wetting
    /// }
    /// recipe right {
    ///     rinse {
    ///         in        wetting 1+200, one-shot
    ///         time      30 s
    ///         agitate   none
    ///     }
    /// }
    /// ```
    ///
    /// **Source.** Common practice, no source.
    "foaming-agitation", Advice, "wetting agent that is moved all the time", Recipe(look)
}

fn look(recipe: &Recipe, faults: &mut Vec<Diagnostic>) {
    for step in recipe.steps.iter().filter(|step| step.role() == Some(Role::Wetting)) {
        let Some(agitation) = &step.agitation else { continue };
        if matches!(agitation.value.pulse, Pulse::Continuous | Pulse::Rotary(_)) {
            faults.push(
                RULE.found(agitation.span, "wetting agent that is moved all the time foams")
                    .help("write: agitate none")
                    .choice(agitation.span, "agitate none"),
            );
        }
    }
}
