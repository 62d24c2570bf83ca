//! The rule `acid-in-developer`.

use super::*;

rule! {
    /// # acid-in-developer: a developer with a strong acid
    ///
    /// Acetic, hydrochloric and sulfuric acid and bisulfate do not belong in a developer. Citric acid may be in a
    /// bottle apart from the alkali, or beside carbonate.
    ///
    /// **Why.** The acid takes the alkali away, and the developer does nothing. Bisulfate is easily written for
    /// bisulfite.
    ///
    /// ```fires
    /// wetside 1
    /// solution bath {
    ///     role      developer
    ///     formula for 1 l {
    ///         water            750 ml at 40 C
    ///         metol            7.5 g
    ///         sodium-sulfite   100 g anhydrous
    ///         sodium-bisulfate 15 g monohydrate
    ///         water            to 1 l
    ///     }
    ///     needs     250 ml per roll
    /// }
    /// ```
    ///
    /// **Instead.** Leave the acid out, or write the salt that is meant.
    ///
    /// ```quiet
    /// wetside 1
    /// solution bath {
    ///     role      developer
    ///     formula for 1 l {
    ///         water            750 ml at 40 C
    ///         metol            7.5 g
    ///         sodium-sulfite   100 g anhydrous
    ///         sodium-bisulfite 15 g
    ///         water            to 1 l
    ///     }
    ///     needs     250 ml per roll
    /// }
    /// ```
    ///
    /// **Source.** Of 81 published developers, 4 have an acid, in each case citric acid. Two were looked up, two are
    /// from memory.
    Warning, Mixture(check)
}

fn check(mixture: &Mixture<'_>) -> Vec<Diagnostic> {
    if mixture.role != Role::Developer {
        return Vec::new();
    }
    let acids = mixture.parts.iter().filter(|part| is_in(ACIDS, part.name()));
    let found = acids.filter_map(|part| {
        let apart = mixture.has_partners() && mixture.has_apart(part, ALKALI);
        if part.name() == "citric-acid" && (mixture.has(CARBONATES) || apart) {
            return None;
        }
        let finding = RULE.found(part.span, format!("{} takes the developer's alkali away", part.name()));
        Some(match part.name() {
            "sodium-bisulfate" => finding.help("is sodium-bisulfite meant? The two are easily taken for each other"),
            _ => finding.help("leave it out, or give the solution another role"),
        })
    });
    found.collect()
}
