//! The rule `implausible-coefficient`.

use super::*;

rule! {
    /// # implausible-coefficient: a chart that falls more slowly or faster with temperature than any published
    ///
    /// From its coldest to its warmest point the time falls by a factor of less than 1.1 or more than 5 for each
    /// 10 °C, beyond what rounding explains.
    ///
    /// **Why.** Published developers are between these limits: metol alone hardly depends on temperature (about 1.25),
    /// hydroquinone strongly. Another factor is a wrong temperature or time, usually Fahrenheit taken for Celsius.
    ///
    /// ```fires
    /// wetside 1
    /// recipe wrong {
    ///     develop {
    ///         in        water
    ///         chart {
    ///             18 C   15:00
    ///             24 C   5:15
    ///         }
    ///     }
    /// }
    /// ```
    ///
    /// ```fires
    /// wetside 1
    /// recipe flat {
    ///     develop {
    ///         in        water
    ///         chart {
    ///             18 C   10:00
    ///             24 C   9:45
    ///         }
    ///     }
    /// }
    /// ```
    ///
    /// **Instead.** Check both ends against the source.
    ///
    /// ```quiet
    /// wetside 1
    /// recipe right {
    ///     develop {
    ///         in        water
    ///         chart {
    ///             18 C   12:00
    ///             24 C   7:00
    ///         }
    ///     }
    /// }
    /// ```
    ///
    /// **Source.** The steepest chart found in print falls by a factor of 4.24 from 60 to 68 F: Minnesota Rules
    /// 4732.0555, for radiographs. The factor of about 1.25 for metol: from memory, not looked up.
    Warning, Step(check)
}

/// The least and the greatest plausible factor by which a time falls for each 10 °C, in hundredths.
const PLAUSIBLE: (i64, i64) = (110, 500);

fn check(step: &Step) -> Option<Diagnostic> {
    let Duration::Chart(chart) = &step.duration.value else { return None };
    let falls = coefficient(chart)?;
    let (cold, warm) = chart.points().first().zip(chart.points().last())?;
    if PLAUSIBLE.0 <= falls.most && falls.least <= PLAUSIBLE.1 {
        return None;
    }
    let factor = decimal(falls.stated, 100, 2);
    let message = format!(
        "from {} to {} the time falls by a factor of {factor} for each 10 C; published factors are 1.25 to 4.24",
        cold.temperature, warm.temperature
    );
    Some(RULE.found(warm.span, message).other(cold.span, "the coldest point").help(format!(
        "check both points against the source; with 2.5, a usual factor, {} would have {}",
        warm.temperature,
        usual_time(chart, cold, warm.temperature)
    )))
}
