//! The rule `push-without-time`.

use super::*;

rule! {
    /// # push-without-time: a push of at least two stops with the time of a lower index
    ///
    /// The recipe is for an index of at least four times the film's speed. Its parent is for a lower one or,
    /// without an index, for the film's speed. Every development has the bath and the time of the parent.
    ///
    /// **Why.** Two stops less light give a thin negative. Only a longer development compensates for part of it.
    ///
    /// ```fires
    /// wetside 1
    /// film f {
    ///     speed     ISO 100
    /// }
    /// recipe normal {
    ///     film      f
    ///     develop {
    ///         in        water
    ///         time      10:00
    ///         between   18 C and 24 C
    ///     }
    /// }
    /// recipe pushed from normal {
    ///     index     400
    /// }
    /// ```
    ///
    /// **Instead.** Give the development its own time.
    ///
    /// ```quiet
    /// wetside 1
    /// film f {
    ///     speed     ISO 100
    /// }
    /// recipe normal {
    ///     film      f
    ///     develop {
    ///         in        water
    ///         time      10:00
    ///         between   18 C and 24 C
    ///     }
    /// }
    /// recipe pushed from normal {
    ///     index     400
    ///     develop {
    ///         time      16:00
    ///     }
    /// }
    /// ```
    ///
    /// **Source.** Common practice.
    Warning, Derived(check)
}

/// The factor of film speed from which a push needs a longer development.
const PUSH: u32 = 4;

fn check(recipe: &Recipe, parent: &Recipe) -> Option<Diagnostic> {
    let (index, film) = recipe.index.zip(recipe.film.as_ref())?;
    let speed = film.value.speed?.value;
    let lower = match (parent.index, &parent.film) {
        (Some(of_parent), _) => of_parent.value,
        (None, Some(_)) => speed,
        (None, None) => return None,
    };
    if lower >= index.value || index.value < speed.saturating_mul(PUSH) {
        return None;
    }
    let first = recipe.steps.iter().find(|step| step.kind == StepKind::Develop)?;
    let message = format!("index {} on film of ISO {speed} has the development of index {lower}", index.value);
    (developments(recipe) == developments(parent)).then(|| {
        RULE.found(index.span, message)
            .other(first.duration.span, "the time of the lower index")
            .help("write a longer time or a chart in 'develop'")
    })
}

/// The baths and times of all developments.
fn developments(recipe: &Recipe) -> Vec<(model::Key<'_>, model::Value<'_>)> {
    use model::Key;
    let develops = |number: usize| {
        let step = number.checked_sub(1).and_then(|at| recipe.steps.get(at));
        step.is_some_and(|step| step.kind == StepKind::Develop)
    };
    let counts = |key: Key<'_>| {
        key.is_of_solution() || matches!(key, Key::Step | Key::Dilution | Key::Use | Key::Time)
    };
    let facts = recipe.work().into_iter().filter(|fact| develops(fact.step) && counts(fact.key));
    facts.map(|fact| (fact.key, fact.value)).collect()
}
