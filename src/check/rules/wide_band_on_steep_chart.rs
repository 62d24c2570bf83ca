//! Much leave where there is little to give.

use crate::model::{Band, Difference, Duration, Recipe, Step, Temperature, change_by_rate, steep_part};
use crate::source::{Diagnostic, Span};

rule! {
    /// # wide-band-on-steep-chart
    ///
    /// **What.** A step may be anywhere in a band more than 4 °C wide, and in a part of it each degree changes the
    /// time by more than 15 %, by the step's chart or its developer's `rate`.
    ///
    /// **Why.** A thermometer is half a degree off, a bath drifts by a degree while it works. Where a degree is 15
    /// % and more of the time, that is a film too thin or too dense.
    ///
    /// ```fires
    /// wetside 1
    /// recipe wrong {
    ///     between   16 C and 24 C
    ///     develop {
    ///         in        water
    ///         chart {
    ///             16 C   20:00
    ///             18 C   14:00
    ///             20 C   10:30
    ///             24 C   6:45
    ///         }
    ///     }
    /// }
    /// ```
    ///
    /// **Instead.** Keep the step to where the chart is flatter, or to so narrow a band that the bath is watched.
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
    ///             24 C   6:45
    ///         }
    ///     }
    /// }
    /// ```
    ///
    /// **Source.** Common practice, no source. In the cold hydroquinone fails: *Wellington Photographic Handbook*,
    /// page 130.
    "wide-band-on-steep-chart", Warning, "a wide band where each degree changes the time by much", Recipe(look)
}

/// A wider band is a wide one: 4 °C.
const WIDE: Difference = Difference { base: 4 * 9000 };
/// A degree may change the time by so many per cent.
const CHANGE_MAX: i64 = 15;

fn look(recipe: &Recipe, faults: &mut Vec<Diagnostic>) {
    for step in &recipe.steps {
        let Some(band) = step.band else { continue };
        let Band::Between(low, high) = band.value else { continue };
        if high.above(low) <= WIDE {
            continue;
        }
        let Some((from, to, per_cent, span)) = steep(step, low, high) else { continue };
        let message =
            format!("from {from} to {to} each degree changes the time by {per_cent} %, and all of it is allowed");
        faults.push(
            RULE.found(band.span, message)
                .other(span, "by this")
                .help("narrow it to where the time changes less, or to 4 C at most around what you work at"),
        );
    }
}

fn steep(step: &Step, low: Temperature, high: Temperature) -> Option<(Temperature, Temperature, i64, Span)> {
    match &step.duration.value {
        Duration::Chart(chart) => {
            let part = steep_part(chart, low, high, CHANGE_MAX)?;
            Some((part.from, part.to, part.per_cent, step.duration.span))
        }
        Duration::Plain { at: Some(_), .. } => {
            let rate = step.solution()?.rate?;
            let change = change_by_rate(rate.value);
            (CHANGE_MAX < change).then_some((low, high, change, rate.span))
        }
        Duration::Plain { at: None, .. }
        | Duration::Clearing { .. }
        | Duration::EachSide(_)
        | Duration::Changes(_)
        | Duration::Flow { .. } => None,
    }
}
