//! The rule `stop-not-acid`.

use super::*;

rule! {
    /// # stop-not-acid: a stop bath without an acid, or with carbonate or hydroxide
    ///
    /// Bisulfite, metabisulfite and alum count as acids here. Acetate and metaborate may be in it, as buffers.
    ///
    /// **Why.** Only acid stops a developer at once. An alkali in the stop bath uses the acid up.
    ///
    /// ```fires
    /// wetside 1
    /// solution bath {
    ///     role      stop
    ///     formula for 1 l {
    ///         water            750 ml at 40 C
    ///         sodium-sulfate   45 g anhydrous
    ///         water            to 1 l
    ///     }
    ///     treats    12 rolls per 1 l at stock
    /// }
    /// ```
    ///
    /// ```fires
    /// wetside 1
    /// solution bath {
    ///     role      stop
    ///     formula for 1 l {
    ///         water            750 ml at 40 C
    ///         citric-acid      15 g monohydrate
    ///         sodium-carbonate 20 g anhydrous
    ///         water            to 1 l
    ///     }
    ///     treats    12 rolls per 1 l at stock
    /// }
    /// ```
    ///
    /// **Instead.** Write the acid of the formula, and leave the alkali out.
    ///
    /// ```quiet
    /// wetside 1
    /// solution bath {
    ///     role      stop
    ///     formula for 1 l {
    ///         water            750 ml at 40 C
    ///         citric-acid      15 g monohydrate
    ///         water            to 1 l
    ///     }
    ///     treats    12 rolls per 1 l at stock
    /// }
    /// ```
    ///
    /// **Source.** Every published stop bath that was counted has an acid or chrome alum: US Army, Laboratory
    /// Procedures, subcourse SS0509, 1988, page 14; Anchell, The Darkroom Cookbook, 3rd ed., 2008, page 268.
    Warning, Mixture(check)
}

fn check(mixture: &Mixture<'_>) -> Option<Diagnostic> {
    if mixture.role != Role::Stop {
        return None;
    }
    if let Some(alkali) = mixture.first(CARBONATES).or_else(|| mixture.first(LYES)) {
        let message = format!("{} takes the acid of the stop bath away", alkali.name());
        return Some(RULE.found(alkali.span, message).help("leave it out, or write the salt that is meant"));
    }
    let has_acid = mixture.has(ACIDS) || mixture.has(BISULFITES) || mixture.has(ALUMS);
    let span = mixture.solution.formulas.first().filter(|_| mixture.is_known && !has_acid)?.makes.span;
    let message = format!("'{}' has no acid, so it stops slowly", mixture.solution.name);
    Some(RULE.found(span, message).help("add the line that is missing, such as: citric-acid 15 g monohydrate"))
}
