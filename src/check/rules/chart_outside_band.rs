//! The rule `chart-outside-band`.

use super::*;

rule! {
    /// # chart-outside-band: a chart at whose temperatures the step may not be done
    ///
    /// **Why.** No temperature is both in the chart and in the band, so no card can be made.
    ///
    /// ```fires
    /// wetside 1
    /// recipe wrong {
    ///     develop {
    ///         in        water
    ///         chart {
    ///             18 C   12:00
    ///             22 C   8:00
    ///         }
    ///         between   24 C and 27 C
    ///         agitate   first 30 s, then 10 s every 1 min
    ///     }
    /// }
    /// ```
    ///
    /// **Instead.** Correct the band or the chart.
    ///
    /// ```quiet
    /// wetside 1
    /// recipe right {
    ///     develop {
    ///         in        water
    ///         chart {
    ///             18 C   12:00
    ///             22 C   8:00
    ///         }
    ///         between   20 C and 27 C
    ///         agitate   first 30 s, then 10 s every 1 min
    ///     }
    /// }
    /// ```
    ///
    /// **Source.** Arithmetic.
    Error, Step(check)
}

fn check(step: &Step) -> Option<Diagnostic> {
    let Duration::Chart(chart) = &*step.duration else { return None };
    let band = step.band?;
    let Band::Between(low, high) = *band else { return None };
    let (coldest, warmest) = chart.ends()?;
    (warmest < low || high < coldest).then(|| {
        let message =
            format!("the chart has times for {coldest} to {warmest}, and the step may be {low} to {high}");
        RULE.found(band.span, message)
            .other(step.duration.span, "the chart")
            .help("correct the band, or add the times at its temperatures to the chart")
    })
}
