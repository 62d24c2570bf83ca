//! The rule `alum-without-acid`.

use super::*;

rule! {
    /// # alum-without-acid: alum beside sulfite without an acid
    ///
    /// **Why.** Sulfite without acid throws the alum down as white sludge, and the bath does not harden.
    ///
    /// ```fires
    /// wetside 1
    /// solution bath {
    ///     role      fixer
    ///     formula for 1 l {
    ///         water            750 ml at 40 C
    ///         sodium-thiosulfate 240 g pentahydrate
    ///         sodium-sulfite   15 g anhydrous
    ///         potassium-alum   15 g dodecahydrate
    ///         water            to 1 l
    ///     }
    ///     treats    20 rolls per 1 l at stock
    /// }
    /// ```
    ///
    /// **Instead.** Add the acid, between the sulfite and the alum.
    ///
    /// ```quiet
    /// wetside 1
    /// solution bath {
    ///     role      fixer
    ///     formula for 1 l {
    ///         water            750 ml at 40 C
    ///         sodium-thiosulfate 240 g pentahydrate
    ///         sodium-sulfite   15 g anhydrous
    ///         acetic-acid      13 ml glacial
    ///         potassium-alum   15 g dodecahydrate
    ///         water            to 1 l
    ///     }
    ///     treats    20 rolls per 1 l at stock
    /// }
    /// ```
    ///
    /// **Source.** A hardening fixer has an acid with its alum: US Army, Laboratory Procedures, subcourse SS0509, 1988,
    /// page 16, from memory. Chrome alum with metabisulfite, which is acid enough: Jones (ed.), Cassell's Cyclopaedia of
    /// Photography, 1911, "Fixing-hardening baths".
    Warning, Mixture(check)
}

fn check(mixture: &Mixture<'_>) -> Option<Diagnostic> {
    let alum = mixture.first(ALUMS).filter(|_| mixture.is_known && mixture.has(&["sodium-sulfite"]))?;
    // In a monobath hydroxide dissolves the alum.
    if mixture.develops() || mixture.has(ACIDS) || mixture.has(BISULFITES) {
        return None;
    }
    let message = format!("{} with sulfite and without acid comes down as sludge", alum.name());
    Some(RULE.found(alum.span, message).help("add before it a line such as: acetic-acid 13 ml glacial"))
}
