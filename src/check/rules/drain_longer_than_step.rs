//! The rule `drain-longer-than-step`.

use super::*;

rule! {
    /// # drain-longer-than-step: a step shorter than its own filling and draining
    ///
    /// The clock of the step runs from the pour (R6), and of a chart the longest time counts. When a card is compiled,
    /// the times of the tank are checked too.
    ///
    /// **Why.** A time from the pour includes filling and draining. The bath would leave before it reaches the film
    /// at the top.
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
    /// **Instead.** Write a longer time, or let the clock run from the full tank.
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
    /// **Source.** US Navy, Photography (Basic), NAVEDTRA 14209, 1993, page 10-24: draining starts before the time is
    /// up.
    Error, Step(check)
}

fn check(step: &Step) -> Option<Diagnostic> {
    let (_, time) = step.duration.value.bounds()?;
    let span = step.drain.or(step.fill)?.span;
    let both = [step.fill, step.drain].into_iter().flatten().fold(Time::ZERO, |sum, own| sum + own.value);
    (step.clock.value == Clock::FromPour && both >= time).then(|| {
        let message = format!("filling and draining take {both}, and the step has only {time}");
        RULE.found(span, message)
            .other(step.duration.span, "the time of the step")
            .help("lengthen the time; or, if it begins when the tank is full, write: clock from full")
    })
}
