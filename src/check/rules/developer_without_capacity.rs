//! The rule `developer-without-capacity`.

use super::*;

rule! {
    /// # developer-without-capacity: a developer without a capacity
    ///
    /// A developer or a monobath has no `needs`, `treats` or `replenish`.
    ///
    /// **Why.** A volume that covers the reels may be too little to develop. A very dilute developer can be exhausted
    /// before the last roll has its density.
    ///
    /// ```fires
    /// wetside 1
    /// solution syrup {
    ///     role      developer
    /// }
    /// ```
    ///
    /// **Instead.** State the least volume for a roll, or how many rolls a volume treats.
    ///
    /// ```quiet
    /// wetside 1
    /// solution syrup {
    ///     role      developer
    ///     needs     5 ml per roll
    /// }
    /// ```
    ///
    /// A replenisher needs no capacity: it is used up as it is added.
    ///
    /// ```quiet
    /// wetside 2
    /// solution line {
    ///     role      developer
    ///     replenish 22 ml per roll with top-up
    /// }
    /// solution top-up {
    ///     role      developer
    /// }
    /// ```
    ///
    /// A bath B (an alkali alone) lasts as long as the bath before it, and a restrainer is added by drops: neither
    /// needs a capacity.
    ///
    /// ```quiet
    /// wetside 1
    /// solution bath-b {
    ///     role      developer
    ///     formula for 1 l {
    ///         water            750 ml at 40 C
    ///         borax            10 g decahydrate
    ///         water            to 1 l
    ///     }
    /// }
    /// ```
    ///
    /// **Source.** Common practice, no source.
    Advice, Missing {
        but_replenishers: true,
        is_missing: |solution| {
            let unknown = solution.needs.is_none() && solution.treats.is_empty() && solution.replenish.is_none();
            let develops = matches!(solution.role, Some(Role::Developer | Role::Monobath));
            develops && unknown && !has_no_agent(solution)
        },
        message: "has no capacity",
        help: "add a line such as: needs 250 ml per roll, or: treats 8 rolls per 1 l at stock",
    }
}
