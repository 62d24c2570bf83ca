//! The rule `fixer-without-thiosulfate`.

use super::*;

rule! {
    /// # fixer-without-thiosulfate: a fixer, bleach-fix or monobath without thiosulfate
    ///
    /// **Why.** Nothing else here dissolves the silver halide: the film stays milky and darkens in light. Sulfite and
    /// sulfate are easily written for thiosulfate.
    ///
    /// ```fires
    /// wetside 1
    /// solution bath {
    ///     role      fixer
    ///     formula for 1 l {
    ///         water            750 ml at 40 C
    ///         sodium-sulfate   250 g decahydrate
    ///         sodium-sulfite   20 g anhydrous
    ///         water            to 1 l
    ///     }
    ///     treats    6 rolls per 1 l at stock
    /// }
    /// ```
    ///
    /// **Instead.** Write the hypo or the ammonium thiosulfate of the formula.
    ///
    /// ```quiet
    /// wetside 1
    /// solution bath {
    ///     role      fixer
    ///     formula for 1 l {
    ///         water            750 ml at 40 C
    ///         sodium-thiosulfate 250 g pentahydrate
    ///         sodium-sulfite   20 g anhydrous
    ///         water            to 1 l
    ///     }
    ///     treats    6 rolls per 1 l at stock
    /// }
    /// ```
    ///
    /// **Source.** Every published fixer that was counted has thiosulfate; US Navy, Photography (Basic), NAVEDTRA
    /// 14209, 1993, chapter 10.
    Warning, Mixture(check)
}

fn check(mixture: &Mixture<'_>) -> Option<Diagnostic> {
    let misses = mixture.is_known && mixture.fixes() && !mixture.has(THIOSULFATES);
    if !misses || mixture.is_odd(&["sodium-sulfite"]) {
        return None;
    }
    if let Some(part) = mixture.first(&["sodium-sulfate"]) {
        let message = format!("{} does not fix, and there is no thiosulfate", part.name());
        return Some(RULE.found(part.span, message).help("is sodium-thiosulfate meant? The two are easily taken for each other"));
    }
    let message = format!("'{}' has no thiosulfate, so it does not fix", mixture.solution.name);
    let span = mixture.solution.formulas.first()?.makes.span;
    Some(RULE.found(span, message).help("add the line that is missing, such as: sodium-thiosulfate 250 g pentahydrate"))
}
