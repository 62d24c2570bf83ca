//! Film hung up with fixer in it.

use crate::model::{Recipe, Role, Step, StepKind};
use crate::source::Diagnostic;

rule! {
    /// # fix-without-wash
    ///
    /// **What.** In a recipe for a film, no wash follows the last fix, bleach-fix or monobath. A recipe without a
    /// film is left alone: what is derived from it may wash.
    ///
    /// **Why.** The film looks finished. What stays in it of the fixer yellows and eats the image within months.
    ///
    /// ```fires
    /// wetside 1
    /// solution fixer {
    ///     role      fixer
    /// }
    /// film f {
    ///     speed     ISO 100
    /// }
    /// recipe wrong {
    ///     film      f
    ///     fix {
    ///         in        fixer 1+4, one-shot
    ///         time      5:00
    ///     }
    ///     dry {
    ///         time      3 h
    ///     }
    /// }
    /// ```
    ///
    /// **Instead.** Wash before drying.
    ///
    /// ```quiet
    /// wetside 1
    /// solution fixer {
    ///     role      fixer
    /// }
    /// film f {
    ///     speed     ISO 100
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
    ///     dry {
    ///         time      3 h
    ///     }
    /// }
    /// ```
    ///
    /// **Source.** ISO 18901 sets how much thiosulfate may stay; NAVEDTRA 14209, page 10-8: at least 20 min in
    /// running water.
    "fix-without-wash", Warning, "no wash after the last fixing bath", Recipe(look)
}

fn look(recipe: &Recipe, faults: &mut Vec<Diagnostic>) {
    let fixes = |step: &Step| match step.role() {
        Some(Role::Fixer | Role::Monobath | Role::BleachFix) => true,
        Some(
            Role::Developer
            | Role::Stop
            | Role::Bleach
            | Role::Clearing
            | Role::Toner
            | Role::Fogging
            | Role::Stabilizer
            | Role::Wetting
            | Role::Hardener,
        )
        | None => false,
    };
    let Some(at) = recipe.steps.iter().rposition(fixes) else { return };
    let washed = recipe.steps.iter().skip(at + 1).any(|step| step.kind == StepKind::Wash);
    let Some(fix) = recipe.steps.get(at).filter(|_| !washed && recipe.film.is_some()) else { return };
    faults.push(
        RULE.found(fix.span, format!("nothing washes the film after the step {}", fix.title()))
            .help("add a step after it: wash, with a line such as: fills 5, 10, 20 inversions"),
    );
}
