//! The rule `developer-without-agent`.

use super::*;

rule! {
    /// # developer-without-agent: a developer without a developing agent
    ///
    /// A bath B, an alkali with or without sulfite and nothing else, needs none; nor does a bottle of restrainer
    /// alone.
    ///
    /// **Why.** Without an agent nothing develops, and the film comes out clear.
    ///
    /// ```fires
    /// wetside 1
    /// solution bath {
    ///     role      developer
    ///     formula for 1 l {
    ///         water            750 ml at 40 C
    ///         sodium-sulfite   100 g anhydrous
    ///         borax            2 g decahydrate
    ///         potassium-bromide 0.5 g
    ///         water            to 1 l
    ///     }
    ///     needs     250 ml per roll
    /// }
    /// ```
    ///
    /// **Instead.** Add the line of the agent.
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
    /// A bath B:
    ///
    /// ```quiet
    /// wetside 1
    /// solution bath {
    ///     role      developer
    ///     formula for 1 l {
    ///         water            750 ml at 40 C
    ///         borax            10 g decahydrate
    ///         water            to 1 l
    ///     }
    /// }
    /// ```
    ///
    /// **Source.** 81 published developers have an agent, and only 5 baths B have none. Some were looked up, as in
    /// Jones (ed.), Cassell's Cyclopaedia of Photography, 1911; the others are from memory.
    Warning, Mixture(check)
}

fn check(mixture: &Mixture<'_>) -> Option<Diagnostic> {
    let is_whole = mixture.is_known && mixture.develops() && !mixture.has(AGENTS);
    if !is_whole || mixture.is_odd(&["sodium-thiosulfate"]) || is_bath_b(mixture.solution) || is_restrainer(mixture.solution) {
        return None;
    }
    let message = format!("'{}' has no developing agent", mixture.solution.name);
    let span = mixture.solution.formulas.first()?.makes.span;
    Some(RULE.found(span, message).help("add the line that is missing, such as: metol 2 g; or: hydroquinone 5 g"))
}
