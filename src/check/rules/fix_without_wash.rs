//! The rule `fix-without-wash`.

use super::*;

rule! {
    /// # fix-without-wash: no wash after the last fixing bath
    ///
    /// No wash follows the last fix, bleach-fix or monobath. A recipe without a film is skipped, because a derived
    /// recipe may wash.
    ///
    /// **Why.** The film looks finished. The fixer left in it stains and destroys the image within months.
    ///
    /// ```fires
    /// wetside 1
    /// solution fixer {
    ///     role      fixer
    /// }
    /// film f {
    /// }
    /// recipe wrong {
    ///     film      f
    ///     fix {
    ///         in        fixer 1+4, one-shot
    ///         time      5:00
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
    /// A wash in a solution, such as sea water, takes the fixer out and leaves its own salts: without fresh water after
    /// it, that is advice.
    ///
    /// **Source.** ISO 18901:2010 sets how much thiosulfate may stay; US Navy, Photography (Basic), NAVEDTRA 14209,
    /// 1993, page 10-8: at least 20 min in running water.
    Warning or Advice, Recipe(check)
}

fn check(recipe: &Recipe) -> Option<Diagnostic> {
    let fixes = |step: &Step| matches!(step.role(), Some(Role::Fixer | Role::Monobath | Role::BleachFix));
    let at = recipe.steps.iter().rposition(fixes).filter(|_| recipe.film.is_some())?;
    let mut washes = recipe.steps.iter().skip(at).filter(|step| step.kind == StepKind::Wash);
    let (fix, help) = (recipe.steps.get(at)?, "add a step after it: wash, with a line such as: fills 5, 10, 20 inversions");
    let Some(last) = washes.next_back() else {
        return Some(RULE.found(fix.span, format!("no wash follows the step {}", fix.title())).help(help));
    };
    let salt = last.solution()?;
    let message = format!("the last wash after {} is in {}, and no fresh water follows", fix.title(), salt.name);
    Some(RULE.weighed(true, last.span, message).help(help))
}
