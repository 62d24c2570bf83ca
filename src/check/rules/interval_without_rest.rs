//! The rule `interval-without-rest`.

use super::*;

rule! {
    /// # interval-without-rest: agitation as an interval that leaves no rest
    ///
    /// In `then A every P` the movement takes the whole period.
    ///
    /// **Why.** The film would never rest, which is `continuous`. As an interval it is usually a slip, and gives
    /// too much contrast.
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
    /// **Instead.** Write `continuous`, or the intended period.
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
    /// **Source.** Common practice.
    Warning, Step(check)
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
