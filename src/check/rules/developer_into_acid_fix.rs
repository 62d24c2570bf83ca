//! The rule `developer-into-acid-fix`.

use super::*;

rule! {
    /// # developer-into-acid-fix: an acid fixer straight after an alkaline developer
    ///
    /// No stop, rinse or wash is between them. A developer with unknown contents counts as alkaline.
    ///
    /// **Why.** The alkali of the developer uses up the acid, development continues in patches, and dichroic fog
    /// settles. A hardening fixer precipitates sludge.
    ///
    /// ```fires
    /// wetside 1
    /// solution dev {
    ///     role      developer
    /// }
    /// solution fixer {
    ///     role      fixer
    ///     contains  sodium-thiosulfate, acetic-acid
    /// }
    /// recipe wrong {
    ///     develop {
    ///         in        dev stock, one-shot
    ///         time      10:00
    ///         between   18 C and 24 C
    ///     }
    ///     fix {
    ///         in        fixer stock, one-shot
    ///         time      5:00
    ///     }
    /// }
    /// ```
    ///
    /// **Instead.** Put a stop bath between them, or plain water for half a minute.
    ///
    /// ```quiet
    /// wetside 1
    /// solution dev {
    ///     role      developer
    /// }
    /// solution fixer {
    ///     role      fixer
    ///     contains  sodium-thiosulfate, acetic-acid
    /// }
    /// recipe right {
    ///     develop {
    ///         in        dev stock, one-shot
    ///         time      10:00
    ///         between   18 C and 24 C
    ///     }
    ///     stop {
    ///         in        water
    ///         time      30 s
    ///     }
    ///     fix {
    ///         in        fixer stock, one-shot
    ///         time      5:00
    ///     }
    /// }
    /// ```
    ///
    /// **Source.** US Army, Laboratory Procedures, subcourse SS0509, 1988, page 14: the stop bath neutralises the
    /// developer. Water for about 30 s in its stead: Anchell, The Darkroom Cookbook, 3rd ed., 2008, page 104.
    Advice, Neighbours(check)
}

fn check(before: &Step, after: &Step) -> Option<Diagnostic> {
    if !matches!(after.kind, StepKind::Fix | StepKind::BleachFix) {
        return None;
    }
    let developer = before.solution().filter(|solution| solution.role == Some(Role::Developer))?;
    let fixer = after.solution().filter(|fixer| fixer.is_acid() && developer.is_alkaline())?;
    let message = format!("developer is carried into {}, which is acid", fixer.name);
    Some(
        RULE.found(after.span, message)
            .other(before.span, "the developer")
            .help("add a stop step before the fixer, with the lines: in water; and: time 30 s"),
    )
}
