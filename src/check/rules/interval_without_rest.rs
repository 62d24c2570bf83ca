//! The rule `interval-without-rest`.

use super::*;

rule! {
    /// # interval-without-rest: agitation as an interval that leaves little or no rest
    ///
    /// In `then A every P` the movement takes more than 0.6 of the period; or `first A` takes more than 0.6 of the
    /// step, or more than five minutes. In a development it is a warning, in other steps advice.
    ///
    /// **Why.** The film would hardly rest, which is `continuous`. As an interval it is usually a slip, and gives
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
    /// **Source.** Agitation for the first 10 to 60 s, then for 5 s in each minute: US Navy, Photography (Basic),
    /// NAVEDTRA 14209, 1993, pages 10-16 and 10-24. Agitation for up to 10 s in each 30 s: common practice, no source.
    Warning or Advice, Step(check)
}

/// The longest plausible agitation at the start of a step.
const FIRST_MAX: Time = Time::from_seconds(5 * 60);

fn check(step: &Step) -> Option<Diagnostic> {
    let agitation = step.agitation.as_ref()?;
    let Pulse::Interval { first, then } = agitation.value.pulse else { return None };
    let is_most = |part: Time, whole: Time| whole.scaled(6, 10) < part;
    let first = first.map(|amount| agitation.value.length(amount));
    let whole = step.duration.value.bounds().map(|(_, longest)| longest);
    let message = match (then, first) {
        (Some((amount, every)), _) if is_most(agitation.value.length(amount), every) => {
            let length = agitation.value.length(amount);
            format!("the agitation lasts {length} in every {every}, with hardly a rest")
        }
        (_, Some(first)) if FIRST_MAX < first || whole.is_some_and(|whole| is_most(first, whole)) => {
            let of = whole.map(|whole| format!(" of {whole}")).unwrap_or_default();
            format!("the agitation lasts the first {first}{of}, with hardly a rest")
        }
        _ => return None,
    };
    Some(
        RULE.weighed(step.kind != StepKind::Develop, agitation.span, message)
            .help("write: agitate continuous; or shorter movements, such as: first 30 s, then 10 s every 1 min")
            .choice(agitation.span, "agitate continuous"),
    )
}
