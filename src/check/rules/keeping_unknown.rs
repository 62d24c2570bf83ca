//! The rule `keeping-unknown`.

rule! {
    /// # keeping-unknown: a mixed solution without a keeping time
    ///
    /// **Why.** A mixed solution goes off. An expired developer looks like any other, and the film that shows it
    /// cannot be shot again.
    ///
    /// ```fires
    /// wetside 1
    /// solution mq {
    ///     role      developer
    ///     formula for 1 l {
    ///         metol            2 g
    ///         water            to 1 l
    ///     }
    /// }
    /// ```
    ///
    /// **Instead.** State how long it keeps in a full, closed bottle.
    ///
    /// ```quiet
    /// wetside 1
    /// solution mq {
    ///     role      developer
    ///     formula for 1 l {
    ///         metol            2 g
    ///         water            to 1 l
    ///     }
    ///     keeps     6 months
    /// }
    /// ```
    ///
    /// **Source.** State rules for X-ray rooms have all chemicals replaced after two or three months: Washington
    /// Administrative Code 246-225-150; New Mexico Administrative Code 20.3.6.612, appendix C.
    Advice, Missing {
        but_replenishers: false,
        is_missing: |solution| !solution.formulas.is_empty() && solution.keeps.is_empty(),
        message: "has a formula, and no keeping time",
        help: "add a line such as: keeps 3 months",
    }
}
