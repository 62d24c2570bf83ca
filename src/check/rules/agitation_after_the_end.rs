//! The rule `agitation-after-the-end`.

use super::*;

rule! {
    /// # agitation-after-the-end: agitation after the end of the step
    ///
    /// **Why.** Such agitation never happens. Either the step is too short, or the scheme is for a longer step.
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
    Error, Step(check)
}

fn check(step: &Step) -> Option<Diagnostic> {
    let time = match &step.duration.value {
        Duration::Plain { time, .. } => *time,
        Duration::Sign(sign) => sign.at_most,
        _ => return None,
    };
    let agitation = step.agitation.as_ref()?;
    let Pulse::At { times, .. } = &agitation.value.pulse else { return None };
    let late = times.iter().find(|late| **late >= time)?;
    let message = format!("the scheme agitates at {late}, and the step ends at {time}");
    Some(
        RULE.found(agitation.span, message)
            .other(step.duration.span, "the time of the step")
            .help("agitate before the step ends, or lengthen the step"),
    )
}
