//! The rule `alum-without-acid`.

use super::*;

rule! {
    /// # alum-without-acid: alum beside sulfite without an acid
    ///
    /// The bath has at least three molecules of sulfite for each of alum: 0.797 g of anhydrous sulfite for each gram of
    /// potassium alum, 0.757 g for each gram of chrome alum. Bisulfite and metabisulfite count as acids. Boric acid does
    /// not: it is too weak.
    ///
    /// **Why.** Sulfite without acid throws the alum down as white sludge, and the bath does not harden. Three
    /// molecules of sulfite throw down all the metal of one molecule of alum. Published baths of alum and sulfite
    /// without acid have less sulfite.
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
    /// **Source.** Alum added to sulfite before the acid comes down, and hardly dissolves again: Studio Light, 1916,
    /// "Stock solution of hardener". Baths without acid have only so much sulfite that the alum begins to come down:
    /// Henley's Twentieth Century Formulas, "Combined alum and hypo bath". That is about 0.7 g of sulfite for 1 g of
    /// alum: Jones (ed.), Cassell's Cyclopaedia of Photography, 1911, "Fixing-hardening baths", where metabisulfite is
    /// the acid beside chrome alum. The limit is three molecules of sulfite because an ion of aluminium or chromium has
    /// three charges.
    Warning, Mixture(check)
}

/// For each alum, the grams of anhydrous sulfite that throw down 1 g of it: three molecules of sulfite (126.04 g/mol)
/// to one of alum (474.37 and 499.40 g/mol).
const ENOUGH: [(&str, f64); 2] = [("potassium-alum", 0.797), ("chrome-alum", 0.757)];
const SULFITE: &[&str] = &["sodium-sulfite"];

fn check(mixture: &Mixture<'_>) -> Option<Diagnostic> {
    let alum = mixture.first(ALUMS).filter(|_| mixture.is_known && mixture.has(SULFITE))?;
    // A monobath is not reported: its hydroxide dissolves the alum.
    let is_apart = mixture.develops() || mixture.has(ACIDS) || mixture.has(BISULFITES);
    // An implausible amount is not reported here, but by `implausible-amount` or `does-not-dissolve`.
    if is_apart || mixture.is_odd(ALUMS) || mixture.is_odd(SULFITE) {
        return None;
    }
    let meets = ENOUGH.iter().map(|(name, grams)| Some(mixture.sum(&[name])? * grams)).sum::<Option<f64>>()?;
    (mixture.sum(SULFITE)? >= meets).then(|| {
        let message = format!("{} beside sulfite needs an acid, or it comes down as sludge", alum.name());
        RULE.found(alum.span, message).help("add before it a line such as: acetic-acid 13 ml glacial")
    })
}
