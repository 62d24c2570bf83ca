//! The rule `bath-b-alone`.

use super::*;

rule! {
    /// # bath-b-alone: a bath B that does not follow another development
    ///
    /// A bath B is an alkali without an agent. The rule looks at recipes with a film.
    ///
    /// **Why.** The film brings the agent into a bath B from the bath before. Alone, or after water or acid, a bath B
    /// develops nothing.
    ///
    /// ```fires
    /// wetside 1
    /// solution soak-a {
    ///     role      developer
    ///     formula for 1 l {
    ///         water            750 ml at 50 C
    ///         metol            5 g
    ///         sodium-sulfite   100 g anhydrous
    ///         water            to 1 l
    ///     }
    ///     treats    12 rolls per 1 l at stock
    /// }
    /// solution soak-b {
    ///     role      developer
    ///     formula for 1 l {
    ///         water            750 ml at 40 C
    ///         borax            10 g decahydrate
    ///         water            to 1 l
    ///     }
    /// }
    /// film dune-100 {
    ///     speed     ISO 100
    /// }
    /// recipe two-baths {
    ///     film      dune-100
    ///     index     100
    ///     between   18 C and 24 C
    ///     develop bath-a {
    ///         in        soak-a stock, one-shot
    ///         time      5:00
    ///         between   18 C and 24 C
    ///     }
    ///     stop {
    ///         in        water, one-shot
    ///         time      5:00
    ///         between   18 C and 24 C
    ///     }
    ///     develop bath-b {
    ///         in        soak-b stock, one-shot
    ///         time      5:00
    ///         between   18 C and 24 C
    ///     }
    /// }
    /// ```
    ///
    /// **Instead.** Put it straight after the development whose agent it needs.
    ///
    /// ```quiet
    /// wetside 1
    /// solution soak-a {
    ///     role      developer
    ///     formula for 1 l {
    ///         water            750 ml at 50 C
    ///         metol            5 g
    ///         sodium-sulfite   100 g anhydrous
    ///         water            to 1 l
    ///     }
    ///     treats    12 rolls per 1 l at stock
    /// }
    /// solution soak-b {
    ///     role      developer
    ///     formula for 1 l {
    ///         water            750 ml at 40 C
    ///         borax            10 g decahydrate
    ///         water            to 1 l
    ///     }
    /// }
    /// film dune-100 {
    ///     speed     ISO 100
    /// }
    /// recipe two-baths {
    ///     film      dune-100
    ///     index     100
    ///     between   18 C and 24 C
    ///     develop bath-a {
    ///         in        soak-a stock, one-shot
    ///         time      5:00
    ///         between   18 C and 24 C
    ///     }
    ///     develop bath-b {
    ///         in        soak-b stock, one-shot
    ///         time      5:00
    ///         between   18 C and 24 C
    ///     }
    ///     stop {
    ///         in        water, one-shot
    ///         time      5:00
    ///         between   18 C and 24 C
    ///     }
    /// }
    /// ```
    ///
    /// **Source.** Two-bath developers: common practice, no source.
    Warning, Recipe(check)
}

fn check(recipe: &Recipe) -> Vec<Diagnostic> {
    if recipe.film.is_none() {
        return Vec::new();
    }
    let liquid = || recipe.steps.iter().filter(|step| step.is_in_liquid());
    let before = [None].into_iter().chain(liquid().map(Some));
    let alone = before.zip(liquid()).filter_map(|(before, step)| {
        let (bath, solution) = step.bath.as_ref().zip(step.solution())?;
        let follows = before.is_some_and(|before| before.kind == StepKind::Develop);
        if step.kind != StepKind::Develop || solution.formulas.is_empty() || !is_bath_b(solution) || follows {
            return None;
        }
        let message = format!("'{}' has no developing agent, and no development comes straight before it", solution.name);
        let finding = RULE.found(bath.span, message).other(solution.span, "an alkali alone");
        Some(finding.help("put this step straight after the development that brings the agent"))
    });
    alone.collect()
}
