//! A pushed film developed as if it were not.

use crate::model::{Key, Recipe, StepKind, Value};
use crate::source::Diagnostic;

rule! {
    /// # push-without-time
    ///
    /// **What.** A derived recipe is for an index of four times the film's speed or more, its parent for a lower
    /// one or, as it has none, for the film's speed, and every development is the parent's: same bath, same time.
    ///
    /// **Why.** Two stops less light give a thin negative; pushing means that longer development makes up for a
    /// part. With the old time nothing does.
    ///
    /// ```fires
    /// wetside 1
    /// film f {
    ///     speed     ISO 100
    /// }
    /// recipe normal {
    ///     film      f
    ///     index     100
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
    ///     index     100
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
    /// **Source.** Common practice, no source.
    "push-without-time", Warning, "a push of two stops and more on the times of a lower index", Derived(look)
}

/// From so many times the film's speed on it is a push that no latitude covers.
const PUSH: u32 = 4;

fn look(recipe: &Recipe, parent: &Recipe, faults: &mut Vec<Diagnostic>) {
    let (Some(index), Some(film)) = (recipe.index, &recipe.film) else { return };
    let Some(speed) = film.value.speed else { return };
    let lower = match (parent.index, &parent.film) {
        (Some(of_parent), _) => of_parent.value,
        (None, Some(_)) => speed.value,
        (None, None) => return,
    };
    if lower >= index.value || index.value < speed.value.saturating_mul(PUSH) {
        return;
    }
    let Some(first) = recipe.steps.iter().find(|step| step.kind == StepKind::Develop) else { return };
    if developments(recipe) == developments(parent) {
        let message =
            format!("index {} on film of ISO {}, and developed as for {lower}", index.value, speed.value);
        faults.push(
            RULE.found(index.span, message)
                .other(first.duration.span, "the time of the lower index")
                .help("give 'develop' a longer time or chart of its own"),
        );
    }
}

/// The baths and times of all developments.
fn developments(recipe: &Recipe) -> Vec<(Key<'_>, Value<'_>)> {
    let mut facts = recipe.work();
    let is_develop = |number: usize| {
        let step = number.checked_sub(1).and_then(|at| recipe.steps.get(at));
        step.is_some_and(|step| step.kind == StepKind::Develop)
    };
    let counts = |key: Key<'_>| {
        key.is_of_solution() || matches!(key, Key::Step | Key::Dilution | Key::Use | Key::Time)
    };
    facts.retain(|fact| is_develop(fact.step) && counts(fact.key));
    facts.into_iter().map(|fact| (fact.key, fact.value)).collect()
}
