//! The rule `wet-after-dry`.

use super::*;

rule! {
    /// # wet-after-dry: a step after drying
    ///
    /// **Why.** Drying ends the work. A later step is in the wrong place, and its time would be counted after hours
    /// of drying.
    ///
    /// ```fires
    /// wetside 1
    /// recipe wrong {
    ///     dry {
    ///         time      3 h
    ///     }
    ///     rinse {
    ///         in        water
    ///         time      30 s
    ///     }
    /// }
    /// ```
    ///
    /// **Instead.** Dry last.
    ///
    /// ```quiet
    /// wetside 1
    /// recipe right {
    ///     rinse {
    ///         in        water
    ///         time      30 s
    ///     }
    ///     dry {
    ///         time      3 h
    ///     }
    /// }
    /// ```
    ///
    /// **Source.** Common practice, no source.
    Error, Order {
        anchor: |step| step.kind == StepKind::Dry,
        misplaced: |_| true,
        before: false,
        message: "comes after drying",
        label: "dry from here on",
        help: "move the drying to the end",
    }
}
