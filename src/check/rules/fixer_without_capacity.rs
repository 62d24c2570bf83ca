//! The rule `fixer-without-capacity`.

use super::*;

rule! {
    /// # fixer-without-capacity: a fixer without a capacity
    ///
    /// A fixer or a bleach-fix has no `treats`.
    ///
    /// **Why.** An exhausted fixer looks like a fresh one. Film from it keeps silver salts and turns brown in later
    /// years.
    ///
    /// ```fires
    /// wetside 1
    /// solution rapid-fix {
    ///     role      fixer
    /// }
    /// ```
    ///
    /// **Instead.** State how many rolls a volume treats at your dilution.
    ///
    /// ```quiet
    /// wetside 1
    /// solution rapid-fix {
    ///     role      fixer
    ///     treats    10 rolls per 1 l at 1+4
    /// }
    /// ```
    ///
    /// **Source.** US Navy, Photography (Basic), NAVEDTRA 14209, 1993, chapter 10: the life of a fixing bath.
    Warning, Missing {
        but_replenishers: true,
        is_missing: Solution::is_fixer_without_capacity,
        message: "has no capacity",
        help: "add a line such as: treats 10 rolls per 1 l at 1+4",
    }
}
