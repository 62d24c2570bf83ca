//! The rule `within-beside-rate`.

use super::*;

rule! {
    /// # within-beside-rate: a wide `within` that keeps the developer's `rate` from being used
    ///
    /// With `within` a card takes the time as written, although the solution has a `rate`. Within this tolerance the
    /// rate would change the time by 10 % or more.
    ///
    /// **Why.** A change of 10 % is visible in the negative. The solution states how to correct it, and the recipe does
    /// not use it.
    ///
    /// ```fires
    /// wetside 1
    /// solution dev {
    ///     role      developer
    ///     rate      2.4 per 10 C
    /// }
    /// recipe wrong {
    ///     develop {
    ///         in        dev 1+1, one-shot
    ///         time      10:00 at 20 C
    ///         within    2 C
    ///         agitate   first 30 s, then 10 s every 1 min
    ///     }
    /// }
    /// ```
    ///
    /// **Instead.** Write the temperatures with `between`, so that a card calculates the time; or narrow the tolerance.
    ///
    /// ```quiet
    /// wetside 1
    /// solution dev {
    ///     role      developer
    ///     rate      2.4 per 10 C
    /// }
    /// recipe right {
    ///     develop {
    ///         in        dev 1+1, one-shot
    ///         time      10:00 at 20 C
    ///         between   18 C and 22 C
    ///         agitate   first 30 s, then 10 s every 1 min
    ///     }
    /// }
    /// ```
    ///
    /// **Source.** Common practice, no source.
    Warning, Step(check)
}

/// The least change of the development time that is visible, in per cent.
const VISIBLE: f64 = 10.0;

fn check(step: &Step) -> Option<Diagnostic> {
    let (band, solution) = step.band.zip(step.solution())?;
    let (Band::Within(by), Duration::Plain { at: Some(at), .. }) = (*band, &*step.duration) else { return None };
    let rate = solution.rate?;
    let change = libm::pow(rate.factor.real(), by.celsius() / rate.interval.celsius()) * 100.0 - 100.0;
    (VISIBLE <= change).then(|| {
        let message = format!("within {by} the time should change by {change:.0} %, and 'within' keeps it as written");
        let between = format!("between {} and {}", at.minus(by), at.plus(by));
        RULE.found(band.span, message)
            .other(rate.span, "the rate that is not used")
            .help(format!("write {between}, so that a card calculates the time"))
            .choice(band.span, between)
    })
}
