//! The rule `short-wash`.

use super::*;

rule! {
    /// # short-wash: a wash of less than three changes of water or less than a minute
    ///
    /// All washing after the last fixing bath counts together. Running water changes what a tank of 0.3 l holds with
    /// each 0.3 l. A wash with a plain time counts as enough changes. `short-wash-after-hardener` reports a short wash
    /// of hardened film.
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
    /// **Source.** Three changes of 5, 10 and 20 inversions: from memory. Running water for 5 min after a wash aid, 20
    /// to 30 min without, and 10 to 12 changes of 2 to 3 min: US Navy, Photography (Basic), NAVEDTRA 14209, 1993, page
    /// 10-8; US Army, Laboratory Procedures, subcourse SS0509, 1988, pages 16 to 24; Schriever (ed.), Complete
    /// Self-Instructing Library of Practical Photography, 1909, § 206.
    Warning, Recipe(check)
}

const CHANGES: i64 = 3;
const TIME: Time = Time::from_seconds(60);
/// The least tank: it makes the most changes of the same running water.
const TANK: Volume = Volume::from_ml(300);

fn check(recipe: &Recipe) -> Option<Diagnostic> {
    recipe.film.as_ref()?;
    let fixes = |step: &Step| matches!(step.role(), Some(Role::Fixer | Role::Monobath | Role::BleachFix));
    let at = recipe.steps.iter().rposition(fixes)?;
    let after = recipe.steps.iter().skip(at + 1).filter(|step| step.is_in_water());
    let washes: Vec<&Step> =
        after.filter(|step| matches!(step.kind, StepKind::Wash | StepKind::Rinse)).collect();
    let last = washes.iter().rfind(|step| step.kind == StepKind::Wash)?;
    let (changes, time) = washes.iter().fold((0_i64, Time::ZERO), |(changes, time), step| {
        let (more, longer) = washing(step);
        (changes.saturating_add(more), time + longer)
    });
    if (CHANGES <= changes && TIME <= time) || super::short_wash_after_hardener::check(recipe).is_some() {
        return None;
    }
    let message = if changes < CHANGES {
        let water = if changes == 1 { "is only 1 change".to_owned() } else { format!("are only {changes} changes") };
        format!("after the last fixer there {water} of water")
    } else {
        format!("after the last fixer the film is washed for only {time}")
    };
    let fix = recipe.steps.get(at)?;
    Some(
        RULE.found(last.duration.span, message)
            .other(fix.span, "the last fixer")
            .help("write at least three changes, such as: fills 5, 10, 20 inversions"),
    )
}

/// The changes of water and the time of one wash.
fn washing(step: &Step) -> (i64, Time) {
    match &*step.duration {
        Duration::Changes(all) => {
            let inversion = step.agitation.as_ref().map_or(Scheme::INVERSION, |scheme| scheme.inversion);
            let time = all.iter().fold(Time::ZERO, |sum, change| match change {
                Change::Inversions(count) => sum + inversion.times(*count),
                Change::Soak(time) => sum + *time,
            });
            (i64::try_from(all.len()).unwrap_or(CHANGES), time)
        }
        Duration::Flow { flow, time } => (running(*flow, *time), *time),
        Duration::Sign(sign) => {
            (sign.flow.map_or(CHANGES, |flow| running(flow, sign.at_most)), sign.at_most)
        }
        Duration::Plain { time, .. } => (CHANGES, *time),
        Duration::Chart(_) | Duration::Clearing { .. } | Duration::EachSide(_) | Duration::Open => (0, Time::ZERO),
    }
}

/// How often running water changes the water of a tank in this time.
fn running(flow: crate::model::Flow, time: Time) -> i64 {
    flow.per_minute.scaled(time.ms, 60_000).fl / TANK.fl
}
