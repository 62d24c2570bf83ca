//! An interval without a rest.

use super::*;

rule! {
    /// # interval-without-rest
    ///
    /// **What.** `then A every P`, where moving takes as long as the whole period.
    ///
    /// **Why.** The film would never rest, which is `continuous`. Written as an interval it is mostly a slip, and a
    /// film moved six times as much as meant comes out too hard.
    ///
    /// ```fires
    /// wetside 1
    /// recipe wrong {
    ///     develop {
    ///         in        water
    ///         time      10:00
    ///         between   18 C and 24 C
    ///         agitate   first 30 s, then 10 s every 10 s
    ///     }
    /// }
    /// ```
    ///
    /// **Instead.** Write `continuous` if that is meant, or the period that is.
    ///
    /// ```quiet
    /// wetside 1
    /// recipe right {
    ///     develop {
    ///         in        water
    ///         time      10:00
    ///         between   18 C and 24 C
    ///         agitate   first 30 s, then 10 s every 1 min
    ///     }
    /// }
    /// ```
    ///
    /// **Source.** Common practice, no source.
    "interval-without-rest", Warning, "agitation as an interval that leaves no rest", Step(check)
}

fn check(step: &Step) -> Option<Diagnostic> {
    let agitation = step.agitation.as_ref()?;
    let Pulse::Interval { then: Some((amount, every)), .. } = agitation.value.pulse else { return None };
    let length = agitation.value.length(amount);
    let message = format!("the film moves for {length} in every {every}, so it never rests");
    (length >= every).then(|| {
        RULE.found(agitation.span, message)
            .help("write: agitate continuous; or a longer period, such as: 10 s every 1 min")
            .choice(agitation.span, "agitate continuous")
    })
}
