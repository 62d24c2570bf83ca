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
    /// **Source.** 10 of 81 published developers have no alkali, all of these kinds; some read and the rest from
    /// memory.
    Warning, Mixture(check)
}

/// The least sulfite that is alkali enough for metol, and for phenidone alone, in grams a litre.
const WITH_METOL: f64 = 60.0;
const WITH_PHENIDONE: f64 = 20.0;
/// Agents that need no alkali, and formaldehyde, which frees it from sulfite.
const NEED_NONE: &[&str] = &["amidol", "ferrous-sulfate", "formaldehyde", "p-phenylenediamine", "paraformaldehyde"];

fn check(mixture: &Mixture<'_>) -> Option<Diagnostic> {
    if !mixture.is_known || !mixture.develops() || mixture.leads_to_alkali {
        return None;
    }
    let agents = mixture.parts.iter().filter(|part| is_in(AGENTS, part.name())).count();
    let sulfite = mixture.sum(SULFITES)?;
    let by_sulfite = (mixture.has(&["metol"]) && sulfite >= WITH_METOL)
        || (mixture.has(&["phenidone"]) && agents == 1 && sulfite >= WITH_PHENIDONE);
    if agents == 0 || by_sulfite || mixture.has(ALKALI) || mixture.has(NEED_NONE) {
        return None;
    }
    let message = format!("'{}' has no alkali, and its agent needs one", mixture.solution.name);
    let span = mixture.solution.formulas.first()?.makes.span;
    Some(RULE.found(span, message).help("add the line that is missing, such as: sodium-carbonate 50 g anhydrous"))
}
