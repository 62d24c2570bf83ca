//! The rule `alum-without-sulfite`.

use super::*;

rule! {
    /// # alum-without-sulfite: alum beside thiosulfate with neither sulfite nor acid
    ///
    /// **Why.** Alum is acid enough to free sulfur from thiosulfate: the bath turns to milk and endangers the
    /// negatives. Sulfite prevents this, and needs an acid to keep the alum dissolved. `alum-without-acid` reports a
    /// missing acid, and `acid-without-sulfite` an acid without sulfite.
    ///
    /// ```fires
    /// wetside 1
    /// solution bath {
    ///     role      fixer
    ///     formula for 1 l {
    ///         water            750 ml at 40 C
    ///         sodium-thiosulfate 240 g pentahydrate
    ///         potassium-alum   15 g dodecahydrate
    ///         water            to 1 l
    ///     }
    ///     treats    20 rolls per 1 l at stock
    /// }
    /// ```
    ///
    /// **Instead.** Add the sulfite, then an acid, before the alum.
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
    /// **Source.** Alum and hypo decompose each other, to the danger of the negatives: Schriever (ed.), Complete
    /// Self-Instructing Library of Practical Photography, 1909, § 804. Alum frees sulfur from hypo, but not beside acid
    /// and sulfite: Studio Light, 1916, "Stock solution of hardener". Alum with sulfite and without acid: Jones (ed.),
    /// Cassell's Cyclopaedia of Photography, 1911, "Fixing-hardening baths".
    Warning, Mixture(check)
}

fn check(mixture: &Mixture<'_>) -> Option<Diagnostic> {
    let alum = mixture.first(ALUMS).filter(|_| mixture.is_known && mixture.fixes() && mixture.has(THIOSULFATES))?;
    // A monobath is not reported: its hydroxide dissolves the alum.
    if mixture.develops() || mixture.has(SULFITES) || mixture.has(ACIDS) {
        return None;
    }
    let message = format!("{} without sulfite frees sulfur from the thiosulfate", alum.name());
    Some(RULE.found(alum.span, message).help("add before it a line such as: sodium-sulfite 15 g anhydrous"))
}
