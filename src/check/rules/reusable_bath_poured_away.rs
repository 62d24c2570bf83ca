//! A kept bath down the drain.

use crate::model::{Pulse, Recipe, Role, Use};
use crate::source::Diagnostic;

rule! {
    /// # reusable-bath-poured-away
    ///
    /// **What.** A developer, fixer or bleach-fix is used undiluted and once, and its solution says how many rolls
    /// it treats, or what replenishes it. A developer in a turning drum is not looked at: air spends it there.
    ///
    /// **Why.** It does no harm to the film. It costs, and a fixer poured away young carries silver that nobody
    /// takes out.
    ///
    /// ```fires
    /// wetside 1
    /// solution fixer {
    ///     role      fixer
    ///     treats    10 rolls per 1 l at stock
    /// }
    /// recipe wrong {
    ///     fix {
    ///         in        fixer stock, one-shot
    ///         time      5:00
    ///     }
    /// }
    /// ```
    ///
    /// **Instead.** Say that it is reused.
    ///
    /// ```quiet
    /// wetside 1
    /// solution fixer {
    ///     role      fixer
    ///     treats    10 rolls per 1 l at stock
    /// }
    /// recipe right {
    ///     fix {
    ///         in        fixer stock, reused
    ///         time      5:00
    ///     }
    /// }
    /// ```
    ///
    /// **Source.** Common practice, no source.
    "reusable-bath-poured-away", Advice, "a bath used once that is made to be used again", Recipe(look)
}

fn look(recipe: &Recipe, faults: &mut Vec<Diagnostic>) {
    for step in &recipe.steps {
        let (Some(bath), Some(solution)) = (&step.bath, step.solution()) else { continue };
        let pulse = step.agitation.as_ref().map(|agitation| &agitation.value.pulse);
        let turns = matches!(pulse, Some(Pulse::Rotary(_)));
        let dear = match solution.role {
            Some(Role::Developer) => !turns,
            Some(Role::Fixer | Role::BleachFix) => true,
            Some(
                Role::Monobath
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
        let once = bath.fate == Some(Use::OneShot) && bath.dilution.water == 0;
        let span = solution.treats.iter().find(|treats| treats.at.as_ref().is_none_or(|at| *at == bath.dilution));
        let keeps = solution.replenish.map(|stated| stated.span).or(span.map(|treats| treats.span));
        let Some(keeps) = keeps.filter(|_| dear && once) else { continue };
        let message = format!("{} would do for more rolls and is poured away", solution.name);
        faults.push(
            RULE.found(bath.span, message)
                .other(keeps, "how far it goes")
                .help(format!("write: in {} {}, reused", solution.name, bath.dilution)),
        );
    }
}
