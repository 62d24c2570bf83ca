//! A step over before its tank could be filled and drained.

use crate::model::{Clock, Duration, Recipe, Time};
use crate::source::Diagnostic;

rule! {
    /// # drain-longer-than-step
    ///
    /// **What.** A step's own `fill` and `drain` take as long as its time, or longer, and its clock runs from
    /// the pour (R6). The tank's own times are held to the same when a card is compiled.
    ///
    /// **Why.** Filling and draining belong to such a time. The bath would have to leave before it is in, so
    /// the film at the top would get none of it.
    ///
    /// ```fires
    /// wetside 1
    /// recipe wrong {
    ///     stop {
    ///         in        water
    ///         time      30 s
    ///         fill      15 s
    ///         drain     20 s
    ///     }
    /// }
    /// ```
    ///
    /// **Instead.** Lengthen the time, or let the clock run from the tank being full.
    ///
    /// ```quiet
    /// wetside 1
    /// recipe right {
    ///     stop {
    ///         in        water
    ///         time      30 s
    ///         fill      15 s
    ///         drain     20 s
    ///         clock     from full
    ///     }
    /// }
    /// ```
    ///
    /// **Source.** NAVEDTRA 14209, Photography (Basic), page 10-24: draining starts before the time is up.
    "drain-longer-than-step", Error, "a step shorter than its own filling and draining", Recipe(look)
}

fn look(recipe: &Recipe, faults: &mut Vec<Diagnostic>) {
    for step in recipe.steps.iter().filter(|step| step.clock.value == Clock::FromPour) {
        let Duration::Plain { time, .. } = step.duration.value else { continue };
        let own = |stated: Option<crate::model::Stated<Time>>| stated.map_or(Time::ZERO, |stated| stated.value);
        let (fill, drain) = (own(step.fill), own(step.drain));
        let Some(span) = step.drain.or(step.fill).map(|stated| stated.span) else { continue };
        if fill + drain >= time {
            let message = format!("filling and draining take {} of the {time} that the step has", fill + drain);
            faults.push(
                RULE.found(span, message)
                    .other(step.duration.span, "the step's time")
                    .help("lengthen the time, or write: clock from full"),
            );
        }
    }
}
