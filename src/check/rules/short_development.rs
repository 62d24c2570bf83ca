//! The rule `short-development`.

use super::*;

rule! {
    /// # short-development: a development under five minutes in a tank
    ///
    /// Successive developers count together. Under five minutes is advice, under 1:30 a warning. Where the film moves
    /// all the time, in a hot process (30 °C and more) and in a monobath, only a time under 30 s is a warning. The
    /// second development of a reversal goes to completion, so the rule skips it.
    ///
    /// **Why.** The bottom of a tank is wet longer than the top, by the time of filling. In a short development
    /// that is a large share, and the film may come out uneven.
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
    /// **Source.** Five minutes: common practice, no source. The shortest time in print for a hand tank is 2 min at 80
    /// F: Minnesota Rules 4732.0555. 2 min in a tray of caustic developer, and a minute for prints: from memory, not
    /// looked up.
    Warning or Advice, Recipe(check)
}

/// The shortest time in which a development in a tank comes out even.
const EVEN: Time = Time::from_seconds(5 * 60);
/// Half a minute less than the shortest published developments: 2 min for film in a tank, and 1 min for film or paper
/// that is agitated all the time.
const TANK: Time = Time::from_seconds(90);
const MOVED: Time = Time::from_seconds(30);

fn check(recipe: &Recipe) -> Option<Diagnostic> {
    let reverses = |step: &&Step| matches!(step.kind, StepKind::Bleach | StepKind::BleachFix | StepKind::Expose);
    let first = recipe.steps.iter().take_while(|step| !reverses(step));
    let develops: Vec<&Step> = first.filter(|step| step.kind == StepKind::Develop).collect();
    let moves = |step: &Step| {
        let pulse = step.agitation.as_ref().map(|agitation| &agitation.value.pulse);
        matches!(pulse, Some(Pulse::Continuous | Pulse::Rotary(_)))
    };
    let is_moved =
        develops.iter().any(|step| moves(step) || step.is_hot() || step.role() == Some(Role::Monobath));
    let (even, shortest) = if is_moved { (MOVED, MOVED) } else { (EVEN, TANK) };
    let rounds = |at: usize| match &recipe.repeat {
        Some(repeat) if (repeat.first..=repeat.last).contains(&at) => repeat.rounds,
        _ => 1,
    };
    let numbered = recipe.steps.iter().enumerate().take_while(|(_, step)| !reverses(step));
    let whole = numbered.filter(|(_, step)| step.kind == StepKind::Develop).try_fold(Time::ZERO, |sum, (at, step)| {
        Some(sum + step.duration.value.bounds()?.0.times(rounds(at)))
    })?;
    let last = develops.last().filter(|_| whole < even)?;
    let span = match &last.duration.value {
        // The coldest point of the chart whose time is too short; if there is none, the warmest point.
        Duration::Chart(chart) => {
            let short = chart.points().iter().find(|point| point.time < even);
            short.or(chart.points().last()).map_or(last.duration.span, |point| point.span)
        }
        _ => last.duration.span,
    };
    if whole < shortest {
        let message = format!("a development of {whole} is shorter than any published");
        return Some(RULE.found(span, message).help("check the time against the source: is a digit missing?"));
    }
    Some(
        RULE.weighed(true, span, format!("a development of {whole} may come out uneven"))
            .help("dilute the developer more, or end the chart colder, so that it takes 5:00 or more")
            .help("if the agitation never rests, write: agitate continuous"),
    )
}
