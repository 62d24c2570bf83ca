//! The rule `too-little-developer`.

use super::*;

rule! {
    /// # too-little-developer: a `needs` with almost no developing agent
    ///
    /// The stated volume holds less than 0.05 g of agents for a roll.
    ///
    /// **Why.** That is too little to develop a film. The volume, or an amount in the formula, has lost a digit.
    ///
    /// ```fires
    /// wetside 1
    /// solution bath {
    ///     role      developer
    ///     formula for 1 l {
    ///         water            750 ml at 40 C
    ///         metol            2 g
    ///         sodium-sulfite   100 g anhydrous
    ///         hydroquinone     5 g
    ///         borax            2 g decahydrate
    ///         water            to 1 l
    ///     }
    ///     needs     2.5 ml per roll
    /// }
    /// ```
    ///
    /// **Instead.** Correct `needs` or the formula.
    ///
    /// ```quiet
    /// wetside 1
    /// solution bath {
    ///     role      developer
    ///     formula for 1 l {
    ///         water            750 ml at 40 C
    ///         metol            2 g
    ///         sodium-sulfite   100 g anhydrous
    ///         hydroquinone     5 g
    ///         borax            2 g decahydrate
    ///         water            to 1 l
    ///     }
    ///     needs     250 ml per roll
    /// }
    /// ```
    ///
    /// **Source.** The least published amount is 0.15 g, in 3 ml of a concentrate of 50 g/l: from memory, not looked
    /// up.
    Warning, Mixture(check)
}

/// The least weight of all developing agents together for one roll, in grams.
const LEAST: f64 = 0.05;

fn check(mixture: &Mixture<'_>) -> Option<Diagnostic> {
    let needs = mixture.solution.needs.filter(|_| mixture.develops() && mixture.is_known && mixture.has(AGENTS))?;
    // An implausible amount is not reported here, but by `implausible-amount` or `does-not-dissolve`.
    if mixture.is_odd(AGENTS) {
        return None;
    }
    let grams = mixture.sum(AGENTS)? * ml(needs.value) / 1000.0;
    (grams < LEAST).then(|| {
        let name = &mixture.solution.name;
        let message = format!("{} of '{name}' hold {} g of developing agents", needs.value, figures(grams));
        RULE.found(needs.span, message).help("check the volume and the formula; a roll takes 0.1 g or more")
    })
}
