//! The rule `stray-chart-point`.

use super::*;

rule! {
    /// # stray-chart-point: a point of a chart that strays from the line through the others
    ///
    /// In a chart of at least four points, each point is compared with the straight line (logarithm of the time against
    /// temperature) through its neighbours. One point is off a line that fits the neighbours by more than 3 %, or at an
    /// end of the chart by more than 15 %, and by more than rounding explains.
    ///
    /// **Why.** Times fall smoothly as a bath gets warmer. A point that does not is usually a slip, such as 8:15
    /// for 9:15.
    ///
    /// ```fires
    /// wetside 1
    /// recipe wrong {
    ///     develop {
    ///         in        water
    ///         chart {
    ///             18 C   12:00
    ///             20 C   10:00
    ///             22 C   9:15
    ///             24 C   7:00
    ///         }
    ///     }
    /// }
    /// ```
    ///
    /// **Instead.** Check the time against the source. If it is printed so, allow it and say why.
    ///
    /// ```quiet
    /// wetside 1
    /// recipe right {
    ///     develop {
    ///         in        water
    ///         chart {
    ///             18 C   12:00
    ///             20 C   10:00
    ///             22 C   8:15
    ///             24 C   7:00
    ///         }
    ///     }
    /// }
    /// ```
    ///
    /// ```quiet
    /// wetside 1
    /// # Radiographs in hand tanks: printed to the half minute, and bent as a whole.
    /// recipe bent {
    ///     develop {
    ///         in        water
    ///         chart {
    ///             60 F   9:30
    ///             64 F   6:30
    ///             68 F   5:00
    ///             72 F   4:00
    ///             76 F   3:00
    ///             80 F   2:00
    ///         }
    ///         agitate   continuous
    ///     }
    /// }
    /// ```
    ///
    /// **Source.** Common practice, no source. The rule accepts the chart of radiographs in Minnesota Rules 4732.0555.
    Warning, Step(check)
}

fn check(step: &Step) -> Option<Diagnostic> {
    let Duration::Chart(chart) = &step.duration.value else { return None };
    let stray = stray_point(chart)?;
    let (point, per_cent) = (stray.point, stray.per_cent.abs());
    let way = if stray.per_cent < 0 { "shorter" } else { "longer" };
    let message = format!(
        "{} at {} is {per_cent} % {way} than the line through the other points",
        point.time, point.temperature
    );
    let help = format!("check it against the source; {} would fit the line", stray.likely);
    Some(RULE.found(point.span, message).help(help))
}
