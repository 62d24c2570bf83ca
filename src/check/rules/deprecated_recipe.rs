//! The rule `deprecated-recipe`.

use super::*;

rule! {
    /// # deprecated-recipe: a recipe or a backlog that names a deprecated recipe
    ///
    /// It skips the recipe that is to be used instead: it may derive from the deprecated one.
    ///
    /// **Why.** The author of the recipe had a reason to give it up, such as times that were too short.
    ///
    /// ```fires
    /// wetside 2
    /// recipe hand-warm {
    ///     deprecated because "the film reticulates", use cool
    ///     stop {
    ///         in        water
    ///         time      1:00
    ///     }
    /// }
    /// recipe cool {
    ///     stop {
    ///         in        water
    ///         time      2:00
    ///     }
    /// }
    /// recipe mine from hand-warm {
    ///     stop {
    ///         time      1:30
    ///     }
    /// }
    /// ```
    ///
    /// **Instead.** First compare the two with `wetside compare`. Then name the recipe that the `deprecated` statement
    /// says to use.
    ///
    /// ```quiet
    /// wetside 2
    /// recipe hand-warm {
    ///     deprecated because "the film reticulates", use cool
    ///     stop {
    ///         in        water
    ///         time      1:00
    ///     }
    /// }
    /// recipe cool from hand-warm {
    ///     stop {
    ///         time      2:00
    ///     }
    /// }
    /// ```
    ///
    /// **Source.** Common practice, no source.
    Advice, File(check)
}

fn check(file: &CheckedFile<'_>) -> Vec<Diagnostic> {
    let found = file.outdated.iter().map(|one| {
        let message = format!("'{}' is deprecated: {}", clip(one.name), clip(one.reason));
        let fault = RULE.found(one.span, message).other(one.said, "its author says so");
        match (&one.here, one.instead) {
            (Some(here), _) => fault.write(here),
            (None, Some(instead)) => {
                fault.help(format!("use the recipe '{}' of its file; this file cannot name it yet", clip(instead)))
            }
            (None, None) => fault.help("choose another recipe, or copy its steps and test them yourself"),
        }
    });
    found.collect()
}
