//! The rule `developer-without-alkali`.

use super::*;

rule! {
    /// # developer-without-alkali: a developer without an alkali
    ///
    /// Metol with 60 g/l of sulfite or more works without, and so do phenidone alone with 20 g/l, amidol,
    /// p-phenylenediamine, ferrous oxalate, and a developer with formaldehyde. The first of two baths needs none if
    /// each recipe's next bath is the alkali.
    ///
    /// **Why.** Most agents hardly develop in sulfite alone; the film comes out nearly clear.
    ///
    /// ```fires
    /// wetside 1
    /// solution bath {
    ///     role      developer
    ///     formula for 1 l {
    ///         water            750 ml at 40 C
    ///         metol            3 g
    ///         sodium-sulfite   50 g anhydrous
    ///         hydroquinone     12 g
    ///         water            to 1 l
    ///     }
    ///     needs     250 ml per roll
    /// }
    /// ```
    ///
    /// **Instead.** Add the carbonate, borax, metaborate or hydroxide of the formula.
    ///
    /// ```quiet
    /// wetside 1
    /// solution bath {
    ///     role      developer
    ///     formula for 1 l {
    ///         water            750 ml at 40 C
    ///         metol            3 g
    ///         sodium-sulfite   50 g anhydrous
    ///         hydroquinone     12 g
    ///         sodium-carbonate 60 g anhydrous
    ///         water            to 1 l
    ///     }
    ///     needs     250 ml per roll
    /// }
    /// ```
    ///
    /// ```quiet
    /// wetside 1
    /// solution bath {
    ///     role      developer
    ///     formula for 1 l {
    ///         water            750 ml at 40 C
    ///         metol            7.5 g
    ///         sodium-sulfite   100 g anhydrous
    ///         water            to 1 l
    ///     }
    ///     needs     250 ml per roll
    /// }
    /// ```
    ///
    /// **Source.** Of 81 published developers, 10 have no alkali; all 10 are of the kinds above. Some were looked up,
    /// the others are from memory.
    Warning, Mixture(check)
}

fn check(mixture: &Mixture<'_>) -> Option<Diagnostic> {
    let is_sulfur = mixture.is_odd(&["sodium-thiosulfate"]) || developer_without_preservative::check(mixture).is_some();
    if is_sulfur || !mixture.lacks_alkali() {
        return None;
    }
    let message = format!("'{}' has no alkali, and its agent needs one", mixture.solution.name);
    let span = mixture.solution.formulas.first()?.makes.span;
    Some(RULE.found(span, message).help("add the line that is missing, such as: sodium-carbonate 50 g anhydrous"))
}
