//! The rule `clears-in-no-fixer`.

use super::*;

rule! {
    /// # clears-in-no-fixer: a clearing time in a solution that is not a fixer
    ///
    /// The solution that `clears` names has a role other than fixer, bleach-fix or monobath.
    ///
    /// **Why.** Only a fixer clears film. Recipes would use a time that was not measured in their fixer.
    ///
    /// ```fires
    /// wetside 1
    /// solution citric-stop {
    ///     role      stop
    /// }
    /// film ebb-50 {
    ///     clears    20 s in citric-stop 1+19 at 20 C
    /// }
    /// ```
    ///
    /// **Instead.** Name the fixer in which the film was tested.
    ///
    /// ```quiet
    /// wetside 1
    /// solution rapid-fix {
    ///     role      fixer
    ///     contains  ammonium-thiosulfate, sodium-sulfite
    ///     treats    10 rolls per 1 l at 1+4
    /// }
    /// film ebb-50 {
    ///     clears    20 s in rapid-fix 1+4 at 20 C
    /// }
    /// ```
    ///
    /// **Source.** US Navy, Photography (Basic), NAVEDTRA 14209, 1993, chapter 10: what clearing is, and in which bath
    /// film clears.
    Warning, Film(check)
}

fn check(film: &Film) -> Vec<Diagnostic> {
    let fixes = |role| matches!(role, Some(Role::Fixer | Role::BleachFix | Role::Monobath));
    let clears = film.clears.iter().filter(|clearing| !fixes(clearing.solution.role));
    let found = clears.map(|clearing| {
        let message = format!("'{}' is not a fixer, and clears no film", clearing.solution.name);
        RULE.found(clearing.span, message)
            .other(clearing.solution.span, "the solution")
            .help("name the fixer here, or correct the role of the solution: role fixer")
    });
    found.collect()
}
