//! The rule `film-without-clearing`.

use super::*;

rule! {
    /// # film-without-clearing: a film without a clearing time, fixed for a plain time
    ///
    /// The rule skips paper: a material without a speed and a grain, or one that the recipe exposes before it develops.
    ///
    /// **Why.** Only the clearing time shows whether a fixing time is enough. Films differ by a factor of five and
    /// more, and a film that is fixed too short turns brown.
    ///
    /// ```fires
    /// wetside 1
    /// film ebb-50 {
    ///     speed     ISO 50
    /// }
    /// solution rapid-fix {
    ///     role      fixer
    /// }
    /// recipe wrong {
    ///     film      ebb-50
    ///     fix {
    ///         in        rapid-fix 1+4
    ///         time      5:00
    ///     }
    /// }
    /// ```
    ///
    /// **Instead.** Watch a piece of the film clear, in the light, and record the time. The recipe can then use it.
    ///
    /// ```quiet
    /// wetside 1
    /// film ebb-50 {
    ///     clears    20 s in rapid-fix 1+4 at 20 C
    /// }
    /// solution rapid-fix {
    ///     role      fixer
    /// }
    /// recipe right {
    ///     film      ebb-50
    ///     fix {
    ///         in        rapid-fix 1+4
    ///         time      2 x clearing, at least 2:00
    ///     }
    /// }
    /// ```
    ///
    /// **Source.** Twice the clearing time: US Navy, Photography (Basic), NAVEDTRA 14209, 1993, chapter 10; US Army,
    /// Laboratory Procedures, subcourse SS0509, 1988, page 15; US Department of Defense, Nondestructive Inspection
    /// Methods, T.O. 33B-1-1, page 6-77.
    Advice, Recipe(check)
}

fn check(recipe: &Recipe) -> Vec<Diagnostic> {
    let film = recipe.film.as_ref().map(|film| &film.value).filter(|film| film.clears.is_empty());
    let is_paper = |film: &Film| {
        let first = recipe.steps.iter().find(|step| matches!(step.kind, StepKind::Expose | StepKind::Develop));
        (film.speed.is_none() && film.grain.is_none()) || first.is_some_and(|step| step.kind == StepKind::Expose)
    };
    let film = film.filter(|film| !is_paper(film));
    // A recipe with a bleach is not reported: after a bleach no silver is left in the film, so nobody can watch it
    // clear.
    let film = film.filter(|_| !recipe.steps.iter().any(|step| step.kind == StepKind::Bleach));
    let found = recipe.steps.iter().filter(|step| step.kind == StepKind::Fix).filter_map(|step| {
        let (Duration::Plain { .. }, Some(bath)) = (&step.duration.value, &step.bath) else { return None };
        let (film, fixer) = (film?, &bath.solution.as_ref()?.name);
        let message = format!("'{}' is fixed for a plain time, and has no clearing time", film.name);
        let help = format!(
            "watch a piece of the {} clear and add the time, such as: clears 60 s in {fixer} {} at 20 C",
            film.material.word(),
            bath.dilution
        );
        let finding = RULE.found(film.span, message).other(step.duration.span, "this time may be too short");
        Some(finding.help(help))
    });
    found.collect()
}
