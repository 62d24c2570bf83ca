//! The rule `short-wash-after-hardener`.

use super::*;

rule! {
    /// # short-wash-after-hardener: a short wash after a hardening fixer
    ///
    /// The fixer contains alum. The washes after it take less than 10 minutes, have less than 5 changes of water,
    /// and no clearing bath is among them.
    ///
    /// **Why.** Alum hardens the gelatin, which then lets water through slowly and holds thiosulfate. That destroys
    /// the image in years.
    ///
    /// ```fires
    /// wetside 1
    /// solution hard-fix {
    ///     role      fixer
    ///     contains  sodium-thiosulfate, acetic-acid, potassium-alum
    /// }
    /// recipe wrong {
    ///     fix {
    ///         in        hard-fix stock, one-shot
    ///         time      10:00
    ///     }
    ///     wash {
    ///         fills     5, 10, 20 inversions
    ///     }
    /// }
    /// ```
    ///
    /// **Instead.** Wash for 20 to 30 minutes in running water, or change the water at least five times.
    ///
    /// ```quiet
    /// wetside 1
    /// solution hard-fix {
    ///     role      fixer
    ///     contains  sodium-thiosulfate, acetic-acid, potassium-alum
    /// }
    /// recipe right {
    ///     fix {
    ///         in        hard-fix stock, one-shot
    ///         time      10:00
    ///     }
    ///     wash {
    ///         flow      2 l/min
    ///         time      30 min
    ///     }
    /// }
    /// ```
    ///
    /// **Source.** 30 min in running water: US Army, Laboratory Procedures, subcourse SS0509, 1988, pages 16 to 24. At
    /// least 20 min: US Navy, Photography (Basic), NAVEDTRA 14209, 1993, page 10-8. Five changes: Schriever (ed.),
    /// Complete Self-Instructing Library of Practical Photography, 1909, § 206. The limit of 10 min, half of the shorter
    /// time, is common practice, no source.
    Warning, Recipe(check)
}

/// The shortest wash that is long enough after a hardening fixer.
const TIME: Time = Time::from_seconds(10 * 60);
/// The number of changes of water that is enough if the wash is shorter than `TIME`.
const CHANGES: usize = 5;

pub(super) fn check(recipe: &Recipe) -> Option<Diagnostic> {
    let hardens = |step: &Step| step.kind == StepKind::Fix && step.solution().is_some_and(|it| it.hardens());
    let at = recipe.steps.iter().rposition(hardens)?;
    let fix = recipe.steps.get(at)?;
    let after = || recipe.steps.iter().skip(at + 1);
    let washes = || after().filter(|step| step.kind == StepKind::Wash);
    let last = washes().next_back()?;
    if after().any(|step| step.role() == Some(Role::Clearing)) {
        return None;
    }
    let (mut time, mut changes) = (Time::ZERO, 0);
    for wash in washes() {
        match &wash.duration.value {
            Duration::Plain { time: one, .. } | Duration::Flow { time: one, .. } => time = time + *one,
            Duration::Sign(sign) => time = time + sign.at_most,
            Duration::Changes(all) => changes += all.len(),
            _ => {}
        }
    }
    if TIME <= time || CHANGES <= changes {
        return None;
    }
    let wash = if time == Time::ZERO { format!("{changes} changes") } else { time.to_string() };
    Some(
        RULE.found(last.duration.span, format!("a wash of {wash} is too short for film hardened with alum"))
            .other(fix.span, "the fixer hardens")
            .help("write, for running water: flow 2 l/min, and time 30 min; or: soak 5:00 x 6"),
    )
}
