//! The rule `implausible-index`.

use super::*;

rule! {
    /// # implausible-index: an index far from the speed of the film
    ///
    /// It is over nine times the film's speed, or under two thirteenths of it: more than three stops above or 2.7
    /// below.
    ///
    /// **Why.** A push gains at most a stop of true speed. Such an index is usually that of another film, or has a
    /// digit too many.
    ///
    /// ```fires
    /// wetside 1
    /// film f {
    ///     speed     ISO 400
    /// }
    /// recipe wrong {
    ///     film      f
    ///     index     4000
    ///     stop {
    ///         in        water
    ///         time      30 s
    ///     }
    /// }
    /// ```
    ///
    /// **Instead.** Check the index and the film.
    ///
    /// ```quiet
    /// wetside 1
    /// film f {
    ///     speed     ISO 400
    /// }
    /// recipe right {
    ///     film      f
    ///     index     1600
    ///     stop {
    ///         in        water
    ///         time      30 s
    ///     }
    /// }
    /// ```
    ///
    /// **Source.** Films are pushed by up to three stops and pulled by one or two: from memory, not looked up.
    Warning, Recipe(check)
}

fn check(recipe: &Recipe) -> Option<Diagnostic> {
    let (index, film) = recipe.index.zip(recipe.film.as_ref())?;
    let speed = film.value.speed?;
    let (asked, of_film) = (u64::from(index.value), u64::from(speed.value));
    (9 * of_film < asked || 13 * asked < 2 * of_film).then(|| {
        let material = film.value.material.word();
        let message = format!("index {} on {material} of ISO {}", index.value, speed.value);
        RULE.found(index.span, message)
            .other(speed.span, format!("the speed of the {material}"))
            .help("check the index and the speed: pushes go to three stops, pulls to two")
    })
}
