//! A film left alone unsaid.

use crate::model::{Pulse, Recipe, Scheme, Step, StepKind, Time};
use crate::source::Diagnostic;

rule! {
    /// # undeclared-stand
    ///
    /// **What.** In development the film is left unmoved for more than five minutes, and nothing says that this is
    /// meant. `agitate at …` says so, and a scheme with `stand` in its name.
    ///
    /// **Why.** Where the film does not move, spent developer runs down along it and leaves streaks. Stand
    /// development risks that knowingly, with little developer and long times; a slip in a scheme does not.
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
    /// **Instead.** Move the film each minute, or say when it is moved.
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
    /// wetside 1
    /// recipe stand {
    ///     develop {
    ///         in        water
    ///         time      60 min
    ///         between   18 C and 22 C
    ///         agitate   at 0:00, 30:00 for 30 s
    ///     }
    /// }
    /// ```
    ///
    /// **Source.** NAVEDTRA 14209, pages 10-16 and 10-24: five seconds once every minute. That five minutes are
    /// long is common practice, no source.
    "undeclared-stand", Warning, "a long rest in development that is not said to be stand", Recipe(look)
}

/// A rest may be so long.
const REST_MAX: Time = Time::from_seconds(5 * 60);

fn look(recipe: &Recipe, faults: &mut Vec<Diagnostic>) {
    for step in recipe.steps.iter().filter(|step| step.kind == StepKind::Develop) {
        let Some(agitation) = &step.agitation else { continue };
        if agitation.value.name.as_ref().is_some_and(|name| name.contains("stand")) {
            continue;
        }
        let Some(rest) = longest_rest(step, &agitation.value).filter(|rest| REST_MAX < *rest) else {
            continue;
        };
        faults.push(
            RULE.found(agitation.span, format!("the film is left alone for {rest} while it develops"))
                .other(step.duration.span, "the step's time")
                .help("write a shorter period, such as: agitate first 30 s, then 10 s every 1 min")
                .help("if it is to stand, say when it moves, such as: agitate at 0:00, 30:00 for 30 s"),
        );
    }
}

/// The longest rest that a scheme leaves within a step's longest time; `None` where it is declared
/// or there is none.
fn longest_rest(step: &Step, scheme: &Scheme) -> Option<Time> {
    let (_, whole) = step.duration.value.bounds()?;
    match &scheme.pulse {
        Pulse::Continuous | Pulse::Rotary(_) | Pulse::At { .. } => None,
        Pulse::None => Some(whole),
        Pulse::Interval { first, then } => {
            let begun = first.map_or(Time::ZERO, |first| scheme.length(first));
            let left = whole - begun;
            let rest = then.map_or(left, |(amount, every)| every - scheme.length(amount));
            Some(rest.min(left))
        }
    }
}
