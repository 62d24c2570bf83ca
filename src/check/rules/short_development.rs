//! The rule `short-development`.

use super::*;

rule! {
    /// # short-development: a development under five minutes in a tank
    ///
    /// Successive developers count together. The rule skips continuous and rotary agitation, hot processes (30 °C
    /// and more), monobaths, and the second development of a reversal, which goes to completion.
    ///
    /// **Why.** The bottom of a tank is wet longer than the top, by the time of filling. In a short development
    /// that is a large share, and the film comes out uneven.
    ///
    /// ```fires
    /// wetside 1
    /// solution dev {
    ///     role      developer
    /// }
    /// recipe wrong {
    ///     develop {
    ///         in        dev stock, one-shot
    ///         time      4:00
    ///         between   18 C and 24 C
    ///     }
    /// }
    /// ```
    ///
    /// **Instead.** Dilute the developer more or work colder, so that it takes five minutes or more. If the film
    /// moves all the time, say so.
    ///
    /// ```quiet
    /// wetside 1
    /// solution dev {
    ///     role      developer
    /// }
    /// recipe right {
    ///     develop {
    ///         in        dev 1+1, one-shot
    ///         time      6:00
    ///         between   18 C and 24 C
    ///     }
    /// }
    /// ```
    ///
    /// ```quiet
    /// wetside 1
    /// solution dev {
    ///     role      developer
    /// }
    /// recipe always-moving {
    ///     develop {
    ///         in        dev stock, one-shot
    ///         time      4:00
    ///         between   18 C and 24 C
    ///         agitate   rotary 60 rpm
    ///     }
    /// }
    /// ```
    ///
    /// **Source.** Common practice.
    Warning, Recipe(check)
}

/// The shortest development that is even.
const SHORTEST: Time = Time::from_seconds(5 * 60);

fn check(recipe: &Recipe) -> Option<Diagnostic> {
    let reverses = |step: &&Step| matches!(step.kind, StepKind::Bleach | StepKind::BleachFix | StepKind::Expose);
    let first = recipe.steps.iter().take_while(|step| !reverses(step));
    let develops: Vec<&Step> = first.filter(|step| step.kind == StepKind::Develop).collect();
    let moves = |step: &Step| {
        let pulse = step.agitation.as_ref().map(|agitation| &agitation.value.pulse);
        matches!(pulse, Some(Pulse::Continuous | Pulse::Rotary(_)))
    };
    if develops.iter().any(|step| moves(step) || step.is_hot() || step.role() == Some(Role::Monobath)) {
        return None;
    }
    let whole = develops.iter().try_fold(Time::ZERO, |sum, step| Some(sum + step.duration.value.bounds()?.0))?;
    let last = develops.last().filter(|_| whole < SHORTEST)?;
    let span = match &last.duration.value {
        // The coldest point of the chart that is too short, or else the warmest point.
        Duration::Chart(chart) => {
            let short = chart.points().iter().find(|point| point.time < SHORTEST);
            short.or(chart.points().last()).map_or(last.duration.span, |point| point.span)
        }
        _ => last.duration.span,
    };
    Some(
        RULE.found(span, format!("a development of {whole} is too short to be even"))
            .help("dilute the developer more, or end the chart colder, so that it takes 5:00 or more")
            .help("if the film moves all the time, write: agitate continuous"),
    )
}
