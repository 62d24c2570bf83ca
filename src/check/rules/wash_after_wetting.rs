//! Rinsing off what was to stay.

use crate::model::{Recipe, Role, StepKind};
use crate::source::Diagnostic;

rule! {
    /// # wash-after-wetting
    ///
    /// **What.** A wash, or a rinse in plain water, follows the bath with wetting agent or stabilizer.
    ///
    /// **Why.** That bath is to dry on the film: the one makes water run off evenly, the other keeps dyes. Water
    /// takes it off again, and leaves its spots.
    ///
    /// ```fires
    /// wetside 1
    /// solution wetting {
    ///     role      wetting
    /// }
    /// recipe wrong {
    ///     rinse {
    ///         in        wetting 1+200, one-shot
    ///         time      30 s
    ///     }
    ///     wash {
    ///         soak      1:00 x 2
    ///     }
    /// }
    /// ```
    ///
    /// **Instead.** Wash first, and let that bath be the last.
    ///
    /// ```quiet
    /// wetside 1
    /// solution wetting {
    ///     role      wetting
    /// }
    /// recipe right {
    ///     wash {
    ///         soak      1:00 x 2
    ///     }
    ///     rinse {
    ///         in        wetting 1+200, one-shot
    ///         time      30 s
    ///     }
    /// }
    /// ```
    ///
    /// **Source.** US Army subcourse SS0509, page 18: a minute in wetting agent, then drying.
    "wash-after-wetting", Warning, "water after the wetting agent or the stabilizer", Recipe(look)
}

fn look(recipe: &Recipe, faults: &mut Vec<Diagnostic>) {
    let stays = |role: Option<Role>| matches!(role, Some(Role::Wetting | Role::Stabilizer));
    let Some(at) = recipe.steps.iter().position(|step| stays(step.role())) else { return };
    let wetting = recipe.steps.get(at).map_or(recipe.span, |step| step.span);
    let water = |kind: StepKind| matches!(kind, StepKind::Wash | StepKind::Rinse);
    for step in recipe.steps.iter().skip(at + 1).filter(|step| water(step.kind) && step.is_in_water()) {
        faults.push(
            RULE.found(step.span, format!("the step {} takes off what was to dry on the film", step.title()))
                .other(wetting, "that bath is here")
                .help("move it before that bath, or take it out"),
        );
    }
}
