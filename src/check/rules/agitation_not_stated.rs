//! The rule `agitation-not-stated`.

use super::*;

rule! {
    /// # agitation-not-stated: a development, a stop or a fix that does not say how to agitate
    ///
    /// It is a warning for a development, and advice for a stop and a fix.
    ///
    /// **Why.** A card without agitation leaves the film standing. Development then is uneven and too weak, and a stop
    /// or a fixer works in patches.
    ///
    /// ```fires
    /// wetside 1
    /// recipe wrong {
    ///     develop {
    ///         in        water
    ///         time      10:00
    ///         between   18 C and 24 C
    ///     }
    /// }
    /// ```
    ///
    /// **Instead.** State how the film is moved, or that it is not: `agitate none`.
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
    ///     stop {
    ///         in        water
    ///         time      1:00
    ///         agitate   none
    ///     }
    /// }
    /// ```
    ///
    /// **Source.** US Navy, Photography (Basic), NAVEDTRA 14209, 1993, pages 10-16 and 10-24: agitate for five seconds
    /// once every minute.
    Warning or Advice, Step(check)
}

fn check(step: &Step) -> Option<Diagnostic> {
    let example = match step.kind {
        _ if step.agitation.is_some() => return None,
        StepKind::Develop => "first 30 s, then 10 s every 1 min",
        StepKind::Stop => "continuous",
        StepKind::Fix => "first 15 s, then 5 s every 30 s",
        _ => return None,
    };
    let message = format!("the step {} does not say how the film is moved", step.title());
    let found = RULE.weighed(step.kind != StepKind::Develop, step.span, message);
    Some(found.help(format!("add a line such as: agitate {example}; if it is not moved: agitate none")))
}
