//! Hypo left in hardened gelatin.

use crate::model::{Duration, Recipe, Role, Step, StepKind, Time};
use crate::source::Diagnostic;

rule! {
    /// # short-wash-after-hardener
    ///
    /// **What.** The fixer holds alum, and what washes after it comes to less than 10 minutes and to less than 5
    /// changes of water, with no clearing bath among it.
    ///
    /// **Why.** Alum tans the gelatin. It lets water through slowly and holds thiosulfate fast; left in, that eats
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
    /// **Instead.** Wash for 20 to 30 minutes in running water, or change the water five times and more; a sulfite
    /// wash aid shortens it.
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
    /// **Source.** US Army subcourse SS0509, pages 16 to 24: 30 min in running water; NAVEDTRA 14209, page 10-8: at
    /// least 20 min. Five changes: Schriever, § 206. That less than half of the time is too short is common
    /// practice, no source.
    "short-wash-after-hardener", Warning, "a short wash after a hardening fixer", Recipe(look)
}

/// A wash of this length is let pass.
const TIME: Time = Time::from_seconds(10 * 60);
/// So are so many changes.
const CHANGES: usize = 5;

fn look(recipe: &Recipe, faults: &mut Vec<Diagnostic>) {
    let hardens = |step: &Step| {
        let solution = step.solution().filter(|solution| solution.hardens());
        step.kind == StepKind::Fix && solution.is_some()
    };
    let Some(at) = recipe.steps.iter().rposition(hardens) else { return };
    let Some(fix) = recipe.steps.get(at) else { return };
    let after = || recipe.steps.iter().skip(at + 1);
    let washes: Vec<&Step> = after().filter(|step| step.kind == StepKind::Wash).collect();
    let Some(last) = washes.last() else { return };
    if after().any(|step| step.role() == Some(Role::Clearing)) {
        return;
    }
    let (mut time, mut changes) = (Time::ZERO, 0);
    for wash in &washes {
        match &wash.duration.value {
            Duration::Plain { time: one, .. } | Duration::Flow { time: one, .. } => time = time + *one,
            Duration::Changes(all) => changes += all.len(),
            Duration::Chart(_) | Duration::Clearing { .. } | Duration::EachSide(_) => {}
        }
    }
    if TIME <= time || CHANGES <= changes {
        return;
    }
    let said = if time == Time::ZERO { format!("{changes} changes") } else { time.to_string() };
    faults.push(
        RULE.found(last.duration.span, format!("{said} wash little out of film that alum has hardened"))
            .other(fix.span, "the fixer hardens")
            .help("write, for running water: flow 2 l/min, and time 30 min; or: soak 5:00 x 6"),
    );
}
