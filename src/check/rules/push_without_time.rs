//! A pushed film developed as if it were not.

use crate::model::{Recipe, Step, StepKind};
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
    let develops = |recipe: &Recipe| -> Vec<Step> {
        recipe.steps.iter().filter(|step| step.kind == StepKind::Develop).cloned().collect()
    };
    let (own, old) = (develops(recipe), develops(parent));
    let same = |(own, old): (&Step, &Step)| {
        let baths = own.bath.as_ref().zip(old.bath.as_ref());
        own.duration.value.same_as(&old.duration.value) && baths.is_none_or(|(own, old)| own.same_as(old))
    };
    let Some(first) = own.first() else { return };
    if own.len() == old.len() && own.iter().zip(&old).all(same) {
        let message =
            format!("index {} on film of ISO {}, and developed as for {lower}", index.value, speed.value);
        faults.push(
            RULE.found(index.span, message)
                .other(first.duration.span, "the time of the lower index")
                .help("give 'develop' a longer time or chart of its own"),
        );
    }
}
