//! The rule `wide-band-on-steep-chart`.

use super::*;

rule! {
    /// # wide-band-on-steep-chart: a wide band where each degree changes the time much
    ///
    /// The band is more than 4 °C wide. In a part of it each degree changes the time by more than 15 %, by the
    /// chart of the step or the `rate` of its developer.
    ///
    /// **Why.** A thermometer is half a degree off, and a bath drifts by a degree. If a degree changes the time by more
    /// than 15 %, the film comes out too thin or too dense.
    ///
    /// ```fires
    /// wetside 1
    /// recipe wrong {
    ///     between   16 C and 24 C
    ///     develop {
    ///         in        water
    ///         chart {
    ///             16 C   20:00
    ///             20 C   10:30
    ///         }
    ///     }
    /// }
    /// ```
    ///
    /// **Instead.** Narrow the band to where the chart is flatter, or to the temperatures that you can hold.
    ///
    /// ```quiet
    /// wetside 1
    /// recipe right {
    ///     between   18 C and 24 C
    ///     develop {
    ///         in        water
    ///         chart {
    ///             16 C   20:00
    ///             18 C   14:00
    ///             20 C   10:30
    ///         }
    ///     }
    /// }
    /// ```
    ///
    /// **Source.** Common practice, no source. Below 65 °F the action of a developer may be incomplete: US Army,
    /// Laboratory Procedures, subcourse SS0509, 1988, page 13.
    Warning, Step(check)
}

/// A band wider than this is wide: 4 °C.
const WIDE: Difference = Difference { base: 4 * 9000 };
/// The greatest change of the time for each degree Celsius, in per cent.
const CHANGE_MAX: i64 = 15;

fn check(step: &Step) -> Option<Diagnostic> {
    let band = step.band?;
    let Band::Between(low, high) = band.value else { return None };
    let (from, to, per_cent, span) = match &step.duration.value {
        _ if high.above(low) <= WIDE => return None,
        Duration::Chart(chart) => {
            let part = steep_part(chart, low, high, CHANGE_MAX)?;
            (part.from, part.to, part.per_cent, step.duration.span)
        }
        Duration::Plain { at: Some(_), .. } => {
            let rate = step.solution()?.rate?;
            let change = Some(change_by_rate(rate.value)).filter(|change| CHANGE_MAX < *change)?;
            (low, high, change, rate.span)
        }
        _ => return None,
    };
    let message =
        format!("from {from} to {to} each degree changes the time by {per_cent} %, and the band allows all of it");
    Some(
        RULE.found(band.span, message)
            .other(span, "the change of the time")
            .help("narrow the band to where the time changes less, or to 4 C around your working temperature"),
    )
}
