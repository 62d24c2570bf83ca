//! The rule `push-without-time`.

use super::*;

rule! {
    /// # push-without-time: a push with the time of a lower index
    ///
    /// The recipe is for an index above the film's speed. Its parent is for an index that is at least a stop lower or,
    /// without an index, for the film's speed. Every development has the bath and the time of the parent. One stop
    /// is advice, two stops are a warning.
    ///
    /// **Why.** Less light gives a thin negative. Only a longer development compensates for part of it.
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
    /// **Source.** One stop takes 35 to 50 % more time, two stops 75 to 100 %: common practice, no source.
    Warning or Advice, Derived(check)
}

/// In tenths: an index counts as one stop above another if it is at least 1.9 times the other, and as two stops from
/// 3.8 times on. Exact stops are 2 and 4 times, but printed indices such as 64 and 125 are rounded.
const ONE_STOP: u64 = 19;
const TWO_STOPS: u64 = 38;

fn check(recipe: &Recipe, parent: &Recipe) -> Option<Diagnostic> {
    let (index, film) = recipe.index.zip(recipe.film.as_ref())?;
    let speed = film.value.speed?.value;
    let lower = match (parent.index, &parent.film) {
        (Some(of_parent), _) => of_parent.value,
        (None, Some(_)) => speed,
        (None, None) => return None,
    };
    let is_factor = |tenths: u64| u64::from(lower) * tenths <= u64::from(index.value) * 10;
    if !is_factor(ONE_STOP) || index.value <= speed {
        return None;
    }
    let first = recipe.steps.iter().find(|step| step.kind == StepKind::Develop)?;
    if matches!(first.duration.value, model::Duration::Sign(_)) {
        return None;
    }
    (developments(recipe) == developments(parent)).then(|| {
        let message = format!("index {} on film of ISO {speed} has the development of index {lower}", index.value);
        RULE.weighed(!is_factor(TWO_STOPS), index.span, message)
            .other(first.duration.span, "the time of the lower index")
            .help("write a longer time or a chart in 'develop'")
    })
}

/// The facts about the baths and times of all developments of a recipe.
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
