//! The rule `two-fixes-in-one-bath`.

use super::*;

rule! {
    /// # two-fixes-in-one-bath: two fixing steps in one solution at one dilution
    ///
    /// **Why.** One solution at one dilution is one bath, so a card lists it once. Two fixing baths are there so that
    /// the second is nearly fresh and finishes what the first leaves.
    ///
    /// ```fires
    /// wetside 1
    /// solution quick-fix {
    ///     role      fixer
    /// }
    /// recipe wrong {
    ///     fix older {
    ///         in        quick-fix 1+4, reused
    ///         time      2:00
    ///     }
    ///     fix newer {
    ///         in        quick-fix 1+4, reused
    ///         time      2:00
    ///     }
    /// }
    /// ```
    ///
    /// **Instead.** For one bath write one step with the whole time. For two, give each bath a name.
    ///
    /// ```quiet
    /// wetside 2
    /// solution quick-fix {
    ///     role      fixer
    /// }
    /// recipe right {
    ///     fix older {
    ///         in        quick-fix 1+4 bath one, reused
    ///         time      2:00
    ///     }
    ///     fix newer {
    ///         in        quick-fix 1+4 bath two, becomes one
    ///         time      2:00
    ///     }
    /// }
    /// ```
    ///
    /// **Source.** Common practice, no source.
    Advice, Recipe(check)
}

fn check(recipe: &Recipe) -> Option<Diagnostic> {
    let mut fixes: Vec<(&Step, &model::Bath)> = Vec::new();
    for step in recipe.steps.iter().filter(|step| step.kind == StepKind::Fix) {
        let Some((bath, solution)) = step.bath.as_ref().zip(step.solution()) else { continue };
        let is_same = |other: &model::Bath| other.has_contents_of(bath) && other.name == bath.name;
        if let Some((first, other)) = fixes.iter().find(|(_, other)| is_same(other)) {
            let (first, second, dilution) = (first.title(), step.title(), &bath.dilution);
            let message = format!("{first} and {second} are both in {} {dilution}: one bath or two?", solution.name);
            return Some(
                RULE.found(bath.span, message)
                    .other(other.span, "the same bath")
                    .help("for one bath write one step with the whole time")
                    .help("for two baths give each a name, such as: bath one, and: bath two, becomes one"),
            );
        }
        fixes.push((step, bath));
    }
    None
}
