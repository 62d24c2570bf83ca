//! The rule `wash-after-wetting`.

use super::*;

rule! {
    /// # wash-after-wetting: water after the wetting agent or the stabilizer
    ///
    /// This includes a rinse in plain water.
    ///
    /// **Why.** Wetting agent lets water run off evenly, and stabilizer preserves dyes. Water removes both and
    /// leaves spots.
    ///
    /// ```fires
    /// wetside 1
    /// solution wetting {
    ///     role      wetting
    /// }
    /// recipe wrong {
    ///     rinse {
    ///         in        wetting 1+200, one-shot
    ///         time      30 s
    ///     }
    ///     wash {
    ///         soak      1:00 x 2
    ///     }
    /// }
    /// ```
    ///
    /// **Instead.** Wash first, and make the wetting agent or the stabilizer the last bath.
    ///
    /// ```quiet
    /// wetside 1
    /// solution wetting {
    ///     role      wetting
    /// }
    /// recipe right {
    ///     wash {
    ///         soak      1:00 x 2
    ///     }
    ///     rinse {
    ///         in        wetting 1+200, one-shot
    ///         time      30 s
    ///     }
    /// }
    /// ```
    ///
    /// **Source.** US Army, Laboratory Procedures, subcourse SS0509, 1988, page 18: a minute in wetting agent, then
    /// drying.
    Warning, Order {
        anchor: |step| matches!(step.role(), Some(Role::Wetting | Role::Stabilizer)),
        misplaced: |step| matches!(step.kind, StepKind::Wash | StepKind::Rinse) && step.is_in_water(),
        before: false,
        message: "removes the bath that should dry on",
        label: "the last bath",
        help: "move it before the last bath, or remove it",
    }
}
