//! The rule `implausible-drum-speed`.

use super::*;

rule! {
    /// # implausible-drum-speed: a drum slower than 10 or faster than 150 turns a minute
    ///
    /// **Why.** A slow drum leaves parts of the film dry for seconds. A fast one throws the bath off the film.
    ///
    /// ```fires
    /// wetside 1
    /// recipe wrong {
    ///     develop {
    ///         in        water
    ///         time      10:00
    ///         between   18 C and 24 C
    ///         agitate   rotary 6 rpm
    ///     }
    /// }
    /// ```
    ///
    /// **Instead.** Turn the drum 25 to 90 times a minute.
    ///
    /// ```quiet
    /// wetside 1
    /// recipe right {
    ///     develop {
    ///         in        water
    ///         time      10:00
    ///         between   18 C and 24 C
    ///         agitate   rotary 60 rpm
    ///     }
    /// }
    /// ```
    ///
    /// **Source.** Usual speeds of 25 to 90 rpm: from memory, not looked up.
    Warning, Step(check)
}

fn check(step: &Step) -> Option<Diagnostic> {
    let agitation = step.agitation.as_ref()?;
    let Pulse::Rotary(speed) = agitation.pulse else { return None };
    (!(10..=150).contains(&speed.rpm)).then(|| {
        let message = format!("the drum turns at {} rpm; usual are 25 to 90", speed.rpm);
        RULE.found(agitation.span, message).help("write a usual speed, such as: rotary 60 rpm")
    })
}
