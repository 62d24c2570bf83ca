//! The rule `stop-before-develop`.

use super::*;

rule! {
    /// # stop-before-develop: a stop bath before the first development
    ///
    /// **Why.** The film carries its acid into the developer, which needs alkali: the film comes out thin or blank,
    /// and the developer is spoilt.
    ///
    /// ```fires
    /// wetside 1
    /// recipe wrong {
    ///     stop {
    ///         in        water
    ///         time      1:00
    ///     }
    ///     develop {
    ///         in        water
    ///         time      10:00
    ///         between   18 C and 24 C
    ///     }
    /// }
    /// ```
    ///
    /// **Instead.** Develop first.
    ///
    /// ```quiet
    /// wetside 1
    /// recipe right {
    ///     develop {
    ///         in        water
    ///         time      10:00
    ///         between   18 C and 24 C
    ///     }
    ///     stop {
    ///         in        water
    ///         time      1:00
    ///     }
    /// }
    /// ```
    ///
    /// **Source.** US Army, Laboratory Procedures, subcourse SS0509, 1988, page 14: the stop bath neutralises the
    /// developer.
    Error, Order {
        anchor: |step| step.kind == StepKind::Develop,
        misplaced: |step| step.kind == StepKind::Stop,
        before: true,
        message: "comes before the development that it stops",
        label: "the first development",
        help: "move the stop after the development",
    }
}
