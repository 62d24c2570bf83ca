//! The rule `short-wash`.

use super::*;
use crate::model::Washing;

rule! {
    /// # short-wash: a wash of less than three changes of water or less than a minute
    ///
    /// All washing after the last fixing bath counts together. Running water changes what a tank of 0.3 l holds with
    /// each 0.3 l; a card counts with the tank of the evening. A wash with a plain time counts as enough changes.
    /// `short-wash-after-hardener` reports a short wash of hardened film.
    ///
    /// **Why.** The fixer left in the film stains and destroys the image in later years.
    ///
    /// ```fires
    /// wetside 1
    /// solution fixer {
    ///     role      fixer
    /// }
    /// film f {
    ///     speed     ISO 400
    /// }
    /// recipe wrong {
    ///     film      f
    ///     fix {
    ///         in        fixer 1+4, one-shot
    ///         time      5:00
    ///     }
    ///     wash {
    ///         fills     5 inversions
    ///     }
    /// }
    /// ```
    ///
    /// **Instead.** Change the water at least three times, with more inversions each time.
    ///
    /// ```quiet
    /// wetside 1
    /// solution fixer {
    ///     role      fixer
    /// }
    /// film f {
    ///     speed     ISO 400
    /// }
    /// recipe right {
    ///     film      f
    ///     fix {
    ///         in        fixer 1+4, one-shot
    ///         time      5:00
    ///     }
    ///     wash {
    ///         fills     5, 10, 20 inversions
    ///     }
    /// }
    /// ```
    ///
    /// **Source.** Three changes of 5, 10 and 20 inversions: from memory, not looked up. Running water for 5 min after
    /// a wash aid and for 20 to 30 min without one, or 10 to 12 changes of water for 2 to 3 min each: US Navy,
    /// Photography (Basic), NAVEDTRA 14209, 1993, page 10-8; US Army, Laboratory Procedures, subcourse SS0509, 1988,
    /// pages 16 to 24; Schriever (ed.), Complete Self-Instructing Library of Practical Photography, 1909, § 206.
    Warning, Recipe(check)
}

const TIME: Time = Time::from_seconds(60);

fn check(recipe: &Recipe) -> Option<Diagnostic> {
    recipe.film.as_ref()?;
    let (fix, washes) = recipe.last_fix_and_washes()?;
    let last = washes.iter().rfind(|step| step.kind == StepKind::Wash)?;
    let (changes, time) = washes.iter().fold((0_i64, Time::ZERO), |(changes, time), step| {
        let more = step.washing(Washing::LEAST_TANK);
        (changes.saturating_add(more.changes), time + more.time)
    });
    let is_enough = Washing::ENOUGH <= changes && TIME <= time;
    if is_enough || super::short_wash_after_hardener::check(recipe).is_some() {
        return None;
    }
    let message = if changes < Washing::ENOUGH {
        let water = if changes == 1 { "is only 1 change".to_owned() } else { format!("are only {changes} changes") };
        format!("after the last fixer there {water} of water")
    } else {
        format!("after the last fixer there is a wash of only {time}")
    };
    Some(
        RULE.found(last.duration.span, message)
            .other(fix.span, "the last fixer")
            .help("write at least three changes, such as: fills 5, 10, 20 inversions"),
    )
}
