//! The rule `does-not-dissolve`.

use super::*;

rule! {
    /// # does-not-dissolve: more of a salt than dissolves in its water
    ///
    /// A bottle, as mixed, has more in a litre than dissolves at 20 °C. Formulas without water are left out.
    ///
    /// **Why.** What does not dissolve lies on the bottom, or comes out again as crystals when the bottle cools. The
    /// bath is weaker than the formula, and the amount is often a slip.
    ///
    /// ```fires
    /// wetside 1
    /// solution bath {
    ///     role      developer
    ///     formula for 1 l {
    ///         water            750 ml at 40 C
    ///         borax            100 g decahydrate
    ///         water            to 1 l
    ///     }
    ///     needs     250 ml per roll
    /// }
    /// ```
    ///
    /// **Instead.** Correct the amount, or make more of the solution.
    ///
    /// ```quiet
    /// wetside 1
    /// solution bath {
    ///     role      developer
    ///     formula for 1 l {
    ///         water            750 ml at 40 C
    ///         borax            20 g decahydrate
    ///         water            to 1 l
    ///     }
    ///     needs     250 ml per roll
    /// }
    /// ```
    ///
    /// **Source.** Solubilities in water: from memory, not looked up.
    Warning, Mixture(check)
}

fn check(mixture: &Mixture<'_>) -> Vec<Diagnostic> {
    let found = mixture.parts.iter().filter_map(|part| {
        let Odd::Undissolved(amount, dissolves) = part.odd? else { return None };
        let (name, amount, dissolves) = (part.name(), figures(amount), figures(dissolves));
        let message = format!("a litre has {amount} g of {name}, and about {dissolves} g dissolve at 20 C");
        Some(RULE.found(part.span, message).help("check the figure, its unit, and the salt's water"))
    });
    found.collect()
}
