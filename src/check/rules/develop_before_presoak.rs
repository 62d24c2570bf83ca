//! The rule `develop-before-presoak`.

use super::*;

rule! {
    /// # develop-before-presoak: a presoak or tempering after the first development
    ///
    /// **Why.** A presoak and tempering prepare dry film for its first bath. After a bath, water in the tank
    /// continues the development, weakly and unevenly.
    ///
    /// ```fires
    /// wetside 1
    /// recipe wrong {
    ///     develop {
    ///         in        water
    ///         time      10:00
    ///         between   18 C and 24 C
    ///     }
    ///     presoak {
    ///         time      2:00
    ///     }
    /// }
    /// ```
    ///
    /// **Instead.** Put it first; for water between two baths write a wash, or a stop in water.
    ///
    /// ```quiet
    /// wetside 1
    /// recipe right {
    ///     presoak {
    ///         time      2:00
    ///     }
    ///     develop {
    ///         in        water
    ///         time      10:00
    ///         between   18 C and 24 C
    ///     }
    /// }
    /// ```
    ///
    /// **Source.** Common practice, no source.
    Error, Order {
        anchor: |step| step.kind == StepKind::Develop,
        misplaced: |step| matches!(step.kind, StepKind::Warm | StepKind::Presoak),
        before: false,
        message: "is for dry film, but comes after a bath",
        label: "the first development",
        help: "move it before the first bath, or replace it by a wash",
    }
}
