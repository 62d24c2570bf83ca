//! The wrong bottle.

use crate::model::{Recipe, Role, StepKind};
use crate::source::Diagnostic;

rule! {
    /// # bath-of-another-role
    ///
    /// **What.** A step works in a solution whose `role` does something else to the film: a development in a fixer,
    /// a fix in a developer, a stop in a developer.
    ///
    /// **Why.** It destroys the film. Fixed before it is developed, it is blank; never fixed, it goes black.
    ///
    /// ```fires
    /// wetside 1
    /// solution fixer {
    ///     role      fixer
    /// }
    /// recipe wrong {
    ///     develop {
    ///         in        fixer 1+4, one-shot
    ///         time      10:00
    ///         between   18 C and 24 C
    ///     }
    ///     wash {
    ///         soak      1:00 x 6
    ///     }
    /// }
    /// ```
    ///
    /// **Instead.** Name the solution that is meant, or mend its `role`.
    ///
    /// ```quiet
    /// wetside 1
    /// solution dev {
    ///     role      developer
    /// }
    /// recipe right {
    ///     develop {
    ///         in        dev 1+4, one-shot
    ///         time      10:00
    ///         between   18 C and 24 C
    ///     }
    /// }
    /// ```
    ///
    /// **Source.** Common practice, no source.
    "bath-of-another-role", Error, "a step in a solution that is made for something else", Recipe(look)
}

fn look(recipe: &Recipe, faults: &mut Vec<Diagnostic>) {
    for step in &recipe.steps {
        let (Some(bath), Some(solution)) = (&step.bath, step.solution()) else { continue };
        let Some(role) = solution.role else { continue };
        let fit = roles(step.kind);
        if fit.is_empty() || fit.contains(&role) {
            continue;
        }
        let wanted = fit.first().map_or("", |role| role.word());
        let message = format!("the step {} is in {}, whose role is {}", step.title(), solution.name, role.word());
        faults.push(
            RULE.found(bath.span, message)
                .other(solution.span, "the solution")
                .help(format!("name a solution with: role {wanted}; or mend the role of {}", solution.name)),
        );
    }
}

/// The roles that do a step's work or at least no harm in it, the usual one first; none for a step
/// that takes no bath.
fn roles(kind: StepKind) -> &'static [Role] {
    match kind {
        StepKind::Develop => &[Role::Developer, Role::Monobath, Role::Fogging, Role::Toner],
        StepKind::Stop => &[Role::Stop, Role::Hardener, Role::Clearing, Role::Fixer],
        StepKind::Fix => &[Role::Fixer, Role::Monobath],
        StepKind::Bleach => &[Role::Bleach, Role::BleachFix, Role::Toner],
        StepKind::BleachFix => &[Role::BleachFix],
        StepKind::Clear => {
            &[Role::Clearing, Role::Stop, Role::Fixer, Role::Hardener, Role::Wetting, Role::Stabilizer]
        }
        StepKind::Tone => &[Role::Toner, Role::Bleach, Role::Developer, Role::Fogging, Role::Stabilizer],
        StepKind::Presoak => &[Role::Wetting, Role::Hardener, Role::Clearing, Role::Developer],
        StepKind::Expose => &[Role::Fogging, Role::Developer],
        StepKind::Wash | StepKind::Rinse => {
            &[Role::Wetting, Role::Stabilizer, Role::Clearing, Role::Hardener, Role::Stop]
        }
        StepKind::Warm | StepKind::Rest | StepKind::Dry => &[],
    }
}
