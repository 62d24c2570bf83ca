//! The rule `implausible-clearing`.

use super::*;

rule! {
    /// # implausible-clearing: a film that takes more than ten minutes to clear
    ///
    /// **Why.** Films clear in 15 s to 5 min. A longer time is a slip, an exhausted fixer or a fixer that is too weak,
    /// and every recipe multiplies it.
    ///
    /// ```fires
    /// wetside 1
    /// solution fixer {
    ///     role      fixer
    /// }
    /// film wrong {
    ///     clears    45 min in fixer 1+4 at 20 C
    /// }
    /// ```
    ///
    /// **Instead.** Test a piece of the film in fresh fixer.
    ///
    /// ```quiet
    /// wetside 1
    /// solution fixer {
    ///     role      fixer
    /// }
    /// film right {
    ///     clears    45 s in fixer 1+4 at 20 C
    /// }
    /// ```
    ///
    /// **Source.** Radiographs take 3 min: US Department of Defense, Nondestructive Inspection Methods, T.O. 33B-1-1,
    /// page 6-77. The other figures are from memory, not looked up.
    Warning, Film(check)
}

const LONGEST: Time = Time::from_seconds(10 * 60);

fn check(film: &Film) -> Vec<Diagnostic> {
    let slow = film.clears.iter().filter(|clearing| LONGEST < clearing.time);
    let found = slow.map(|clearing| {
        let message = format!("'{}' would take {} to clear; films take 15 s to 5 min", film.name, clearing.time);
        RULE.found(clearing.span, message).help("check the unit, or test a piece of the film in fresh fixer")
    });
    found.collect()
}
