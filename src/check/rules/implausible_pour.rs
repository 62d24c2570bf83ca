//! The rule `implausible-pour`.

use super::*;

rule! {
    /// # implausible-pour: a step that takes more than 3 minutes to fill or drain
    ///
    /// **Why.** A pour of minutes develops one end of the film longer than the other, and a card begins each bath
    /// earlier by these times.
    ///
    /// ```fires
    /// wetside 1
    /// recipe slow {
    ///     fix {
    ///         in        water
    ///         time      20:00
    ///         drain     10 min
    ///     }
    /// }
    /// ```
    ///
    /// **Instead.** Correct the time or its unit.
    ///
    /// ```quiet
    /// wetside 1
    /// recipe usual {
    ///     fix {
    ///         in        water
    ///         time      20:00
    ///         drain     10 s
    ///     }
    /// }
    /// ```
    ///
    /// **Source.** Pours take 10 to 20 s: US Navy, Photography (Basic), NAVEDTRA 14209, 1993, page 10-24. The 3 minutes
    /// are common practice, no source.
    Warning, Step(check)
}

fn check(step: &Step) -> Vec<Diagnostic> {
    // A pour that is longer than its step is reported only by `drain-longer-than-step`.
    let longest = step.duration.bounds().map(|(least, _)| least);
    let pours = [("fill", step.fill), ("drain", step.drain)].into_iter().filter_map(|(word, time)| {
        let time = time.filter(|time| implausible_tank::POUR < **time && longest.is_none_or(|longest| **time < longest))?;
        let message = format!("it takes {} to {word} the tank in the step {}", *time, step.title());
        Some(RULE.found(time.span, message).help("check the time and its unit, such as: 10 s"))
    });
    pours.collect()
}
