//! The rule `temperature-jump`.

use super::*;

rule! {
    /// # temperature-jump: two successive baths of very different temperatures
    ///
    /// By their `at`, or by bands that do not meet, they are more than 4 °C apart.
    ///
    /// **Why.** Gelatin swells in the warm and shrinks in the cold. Shrunk at once it wrinkles, and the wrinkles
    /// (reticulation) stay.
    ///
    /// ```fires
    /// wetside 1
    /// recipe wrong {
    ///     develop {
    ///         in        water
    ///         time      10:00 at 24 C
    ///         within    0.5 C
    ///     }
    ///     wash {
    ///         at        15 C
    ///         soak      1:00 x 6
    ///     }
    /// }
    /// ```
    ///
    /// **Instead.** Bring all baths and the wash near the developer's temperature, or go down in small steps.
    ///
    /// ```quiet
    /// wetside 1
    /// recipe right {
    ///     develop {
    ///         in        water
    ///         time      10:00 at 24 C
    ///         within    0.5 C
    ///     }
    ///     wash {
    ///         at        21 C
    ///         soak      1:00 x 6
    ///     }
    /// }
    /// ```
    ///
    /// **Source.** US Army, Laboratory Procedures, subcourse SS0509, 1988, page 14: all baths as near each other as
    /// possible, else reticulation. The 4 °C are common practice, no source.
    Warning, Neighbours(check)
}

fn check(before: &Step, after: &Step) -> Option<Diagnostic> {
    let (from, to) = before.jump_to(after)?;
    let place = |step: &Step| {
        step.at.map(|at| at.span).or(step.band.map(|band| band.span)).unwrap_or(step.duration.span)
    };
    let message = format!("from {from} to {to} at once, the gelatin may wrinkle");
    let finding = RULE.found(place(after), message).other(place(before), "the bath before it");
    let help = format!("bring this bath within 4 C of {from}, or add a bath of a temperature between");
    Some(finding.help(help))
}
