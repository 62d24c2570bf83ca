//! The rule `implausible-film-speed`.

use super::*;

rule! {
    /// # implausible-film-speed: a film faster than ISO 12800
    ///
    /// **Why.** No film is so fast, so the number has a digit too many, and every index is compared with it.
    ///
    /// ```fires
    /// wetside 1
    /// film wrong {
    ///     speed     ISO 40000
    /// }
    /// ```
    ///
    /// **Instead.** Check the number on the box.
    ///
    /// ```quiet
    /// wetside 1
    /// film right {
    ///     speed     ISO 400
    /// }
    /// ```
    ///
    /// **Source.** Films have speeds from ISO 0.8 to 3200: from memory, not looked up.
    Warning, Film(check)
}

const FASTEST: u32 = 12_800;

fn check(film: &Film) -> Option<Diagnostic> {
    let speed = film.speed.filter(|speed| FASTEST < speed.value)?;
    let message = format!("no {} has a speed of ISO {}", film.material.word(), speed.value);
    Some(RULE.found(speed.span, message).help("check the number on the box, such as: speed ISO 400"))
}
