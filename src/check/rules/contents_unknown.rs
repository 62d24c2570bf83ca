//! The rule `contents-unknown`.

rule! {
    /// # contents-unknown: a solution without a formula and without contents
    ///
    /// **Why.** Without contents a card cannot warn of dangerous chemicals, and the solution looks harmless.
    ///
    /// ```fires
    /// wetside 1
    /// solution stop-bath {
    ///     role      stop
    /// }
    /// ```
    ///
    /// **Instead.** List the ingredients that its safety data sheet names.
    ///
    /// ```quiet
    /// wetside 1
    /// solution stop-bath {
    ///     role      stop
    ///     contains  acetic-acid
    /// }
    /// ```
    ///
    /// State also an ingredient that the program's table of ingredients lacks.
    ///
    /// ```quiet
    /// wetside 1
    /// solution stop-bath {
    ///     role      stop
    ///     contains  lactic-acid
    /// }
    /// ```
    ///
    /// **Source.** Section 3 of a safety data sheet: United Nations, Globally Harmonized System, annex 4.
    Warning, Missing {
        but_replenishers: false,
        is_missing: |solution| {
            solution.formulas.is_empty() && solution.contains.is_empty() && !solution.has_unlisted
        },
        message: "does not state its contents, so a card cannot warn of them",
        help: "copy the ingredients from section 3 of its safety data sheet, such as: contains acetic-acid",
    }
}
