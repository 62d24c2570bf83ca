//! The rule `undeclared-stand`.

use super::*;

rule! {
    /// # undeclared-stand: a long rest in development that is not declared
    ///
    /// The film rests for more than five minutes, and its agitation neither says `stand` or `none` nor lists its times
    /// with `at`.
    ///
    /// **Why.** Where the film does not move, exhausted developer runs down along it and leaves streaks. Stand
    /// development accepts that, with little developer and long times.
    ///
    /// ```fires
    /// wetside 1
    /// recipe wrong {
    ///     develop {
    ///         in        water
    ///         time      20:00
    ///         between   18 C and 24 C
    ///         agitate   first 30 s, then 10 s every 10 min
    ///     }
    /// }
    /// ```
    ///
    /// ```fires
    /// wetside 1
    /// recipe only-at-first {
    ///     develop {
    ///         in        water
    ///         time      20:00
    ///         between   18 C and 24 C
    ///         agitate   first 30 s
    ///     }
    /// }
    /// ```
    ///
    /// **Instead.** Move the film each minute, or say that the rests are intended: `agitate first 30 s, stand`.
    ///
    /// ```quiet
    /// wetside 1
    /// recipe right {
    ///     develop {
    ///         in        water
    ///         time      20:00
    ///         between   18 C and 24 C
    ///         agitate   first 30 s, then 10 s every 1 min
    ///     }
    /// }
    /// ```
    ///
    /// ```quiet
    /// wetside 2
    /// recipe undisturbed {
    ///     develop {
    ///         in        water
    ///         time      60 min
    ///         between   18 C and 22 C
    ///         agitate   first 30 s, stand
    ///     }
    /// }
    /// ```
    ///
    /// ```quiet
    /// wetside 1
    /// recipe at-its-times {
    ///     develop {
    ///         in        water
    ///         time      60 min
    ///         between   18 C and 22 C
    ///         agitate   at 0:00, 30:00 for 30 s
    ///     }
    /// }
    /// ```
    ///
    /// **Source.** US Navy, Photography (Basic), NAVEDTRA 14209, 1993, pages 10-16 and 10-24: five seconds once every
    /// minute. The five minutes are common practice, no source.
    Warning, Step(check)
}

/// The longest rest in a development that need not be declared.
const REST_MAX: Time = Time::from_seconds(5 * 60);

/// The longest rest of a development that is agitated at intervals and is not declared as stand development. `None` if
/// it is at most `REST_MAX`.
pub(super) fn rest(step: &Step) -> Option<Time> {
    let scheme = step.agitation.as_ref().filter(|scheme| step.kind == StepKind::Develop && !scheme.stand)?;
    let (_, whole) = step.duration.value.bounds()?;
    match &scheme.pulse {
        Pulse::None | Pulse::Continuous | Pulse::Rotary(_) | Pulse::At { .. } => None,
        Pulse::Interval { first, then } => {
            let left = whole - first.map_or(Time::ZERO, |first| scheme.length(first));
            Some(then.map_or(left, |(amount, every)| (every - scheme.length(amount)).min(left)))
        }
    }
    .filter(|rest| REST_MAX < *rest)
}

fn check(step: &Step) -> Option<Diagnostic> {
    let (rest, agitation) = rest(step).zip(step.agitation.as_ref())?;
    Some(
        RULE.found(agitation.span, format!("nothing moves for {rest} during development"))
            .other(step.duration.span, "the time of the step")
            .help("write a shorter period, such as: agitate first 30 s, then 10 s every 1 min")
            .help("for stand development add the word stand, such as: agitate first 30 s, stand"),
    )
}
