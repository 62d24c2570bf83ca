//! The rule `one-time-for-a-wide-band`.

use super::*;

rule! {
    /// # one-time-for-a-wide-band: one development time for a wide band of temperatures
    ///
    /// The band is wider than 6 °C, and the step has neither a chart nor a time at a temperature with the `rate` of its
    /// developer. Stand and two-bath developments, monobaths and the second development of a reversal are skipped.
    ///
    /// **Why.** At a usual coefficient of 2.5 for 10 °C, 6 °C change the time by a factor of 1.7, as much as a push of
    /// two stops. At one end the film is thin, at the other too dense.
    ///
    /// ```fires
    /// wetside 1
    /// solution dev {
    ///     role      developer
    /// }
    /// recipe wrong {
    ///     develop {
    ///         in        dev 1+1, one-shot
    ///         time      10:00
    ///         between   15 C and 25 C
    ///         agitate   first 30 s, then 10 s every 1 min
    ///     }
    /// }
    /// ```
    ///
    /// **Instead.** Narrow the band, or write a chart, or a time at its temperature beside a `rate`.
    ///
    /// ```quiet
    /// wetside 1
    /// solution dev {
    ///     role      developer
    /// }
    /// recipe right {
    ///     develop {
    ///         in        dev 1+1, one-shot
    ///         chart {
    ///             15 C   16:00
    ///             20 C   10:00
    ///             25 C   6:15
    ///         }
    ///         agitate   first 30 s, then 10 s every 1 min
    ///     }
    /// }
    /// ```
    ///
    /// **Source.** Common practice, no source. For 6 of 10 °C, the factor is 2.5 to the power of 0.6: 1.73.
    Warning, Recipe(check)
}

/// The widest band of temperatures for which one time may hold: 6 °C.
const WIDEST: Difference = Difference { base: 6 * 9000 };

fn check(recipe: &Recipe) -> Vec<Diagnostic> {
    let reverses = |step: &&Step| matches!(step.kind, StepKind::Bleach | StepKind::BleachFix | StepKind::Expose);
    let first = recipe.steps.iter().take_while(|step| !reverses(step));
    let develops: Vec<&Step> = first.filter(|step| step.kind == StepKind::Develop).collect();
    let solution = |step: &Step| step.solution().map(|solution| solution.span);
    let is_two_bath = develops.iter().zip(develops.iter().skip(1)).any(|(a, b)| solution(a) != solution(b));
    if is_two_bath {
        return Vec::new();
    }
    let found = develops.into_iter().filter_map(|step| {
        let Duration::Plain { time, at } = *step.duration else { return None };
        let band = step.band?;
        let (low, high) = match *band {
            Band::Between(low, high) => (low, high),
            Band::Within(by) => (at?.minus(by), at?.plus(by)),
        };
        let other_work = matches!(step.role(), Some(Role::Monobath | Role::Fogging | Role::Toner));
        if high.above(low) <= WIDEST || step.goes_by_rate() || rests(step) || other_work {
            return None;
        }
        let message = format!("one time, {time}, for every temperature from {low} to {high}");
        let finding = RULE.found(band.span, message).other(step.duration.span, "the same time for all of them");
        Some(finding.help("narrow the band, or write a chart with the times at two temperatures or more"))
    });
    found.collect()
}

/// Whether a step is stand development: its agitation says so, or `undeclared-stand` reports it.
fn rests(step: &Step) -> bool {
    let is_at_rest = |scheme: &Scheme| scheme.stand || matches!(scheme.pulse, Pulse::None | Pulse::At { .. });
    step.agitation.as_ref().is_some_and(|scheme| is_at_rest(scheme)) || super::undeclared_stand::rest(step).is_some()
}
