//! Agitation that would come when the bath is gone.

use crate::model::{Duration, Pulse, Recipe};
use crate::source::Diagnostic;

rule! {
    /// # agitation-after-the-end
    ///
    /// **What.** A scheme moves the film at a time that is later than the step's whole time.
    ///
    /// **Why.** It would never happen. Either the step is too short or the scheme was made for another.
    ///
    /// ```fires
    /// wetside 1
    /// recipe wrong {
    ///     fix {
    ///         in        water
    ///         time      20:00
    ///         agitate   at 0:00, 30:00 for 30 s
    ///     }
    /// }
    /// ```
    ///
    /// **Instead.** Give times within the step.
    ///
    /// ```quiet
    /// wetside 1
    /// recipe right {
    ///     fix {
    ///         in        water
    ///         time      60:00
    ///         agitate   at 0:00, 30:00 for 30 s
    ///     }
    /// }
    /// ```
    ///
    /// **Source.** Common practice, no source.
    "agitation-after-the-end", Error, "agitation at a time when the step is over", Recipe(look)
}

fn look(recipe: &Recipe, faults: &mut Vec<Diagnostic>) {
    for step in &recipe.steps {
        let Duration::Plain { time, .. } = step.duration.value else { continue };
        let Some(agitation) = &step.agitation else { continue };
        let Pulse::At { times, .. } = &agitation.value.pulse else { continue };
        if let Some(late) = times.iter().find(|late| **late >= time) {
            let message = format!("the film would be moved at {late}, and the step is over at {time}");
            faults.push(
                RULE.found(agitation.span, message)
                    .other(step.duration.span, "the step's time")
                    .help("give times within the step, or lengthen it"),
            );
        }
    }
}
