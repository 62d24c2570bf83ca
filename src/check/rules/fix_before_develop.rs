//! The rule `fix-before-develop`.

use super::*;

rule! {
    /// # fix-before-develop: a fixer, a bleach or a bleach-fix before the first development
    ///
    /// **Why.** It dissolves the silver salts that hold the picture. Nothing is left to develop.
    ///
    /// ```fires
    /// wetside 1
    /// recipe wrong {
    ///     fix {
    ///         in        water
    ///         time      5:00
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
    ///     fix {
    ///         in        water
    ///         time      5:00
    ///     }
    /// }
    /// ```
    ///
    /// **Source.** NAVEDTRA 14209, Photography (Basic), chapter 10: the order of processing.
    Error, Order {
        anchor: |step| step.kind == StepKind::Develop,
        misplaced: |step| matches!(step.kind, StepKind::Fix | StepKind::Bleach | StepKind::BleachFix),
        before: true,
        message: "would destroy the picture before it is developed",
        label: "the first development",
        help: "move the development before it",
    }
}
