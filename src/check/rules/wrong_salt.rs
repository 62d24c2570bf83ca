//! The rule `wrong-salt`.

use super::*;

rule! {
    /// # wrong-salt: a salt that is easily written for another, in a bath that needs the other
    ///
    /// Sulfide in a developer, fixer or clearing bath; sulfate or thiosulfate in a clearing bath; sulfate in a
    /// developer or fixer without sulfite; sulfite alone in a toner. If another rule reports that
    /// sulfite or thiosulfate is missing, this rule is quiet.
    ///
    /// **Why.** Sulfite, sulfate, sulfide and thiosulfate differ by a few letters, and each does something else.
    /// Sulfide ruins film and paper by its gas.
    ///
    /// ```fires
    /// wetside 1
    /// solution bath {
    ///     role      clearing
    ///     formula for 1 l {
    ///         water            750 ml at 40 C
    ///         sodium-sulfate   20 g anhydrous
    ///         water            to 1 l
    ///     }
    /// }
    /// ```
    ///
    /// **Instead.** Write the salt of the formula.
    ///
    /// ```quiet
    /// wetside 1
    /// solution bath {
    ///     role      clearing
    ///     formula for 1 l {
    ///         water            750 ml at 40 C
    ///         sodium-sulfite   20 g anhydrous
    ///         water            to 1 l
    ///     }
    /// }
    /// ```
    ///
    /// **Source.** None of the published formulas that were counted has such a salt in such a bath. Some were looked
    /// up, the others are from memory.
    Warning, Mixture(check)
}

/// Developing agents and thiosulfates. This rule skips a developer or fixer that has none of them.
const WORKING: &[&str] = &[
    "amidol",
    "ammonium-thiosulfate",
    "catechol",
    "colour-developing-agent",
    "glycin",
    "hydroquinone",
    "metol",
    "p-aminophenol-hydrochloride",
    "p-phenylenediamine",
    "phenidone",
    "pyrogallol",
    "sodium-thiosulfate",
];

fn check(mixture: &Mixture<'_>) -> Option<Diagnostic> {
    // If sulfite or thiosulfate is missing, this rule reports nothing: `developer-without-preservative`,
    // `acid-without-sulfite` or `fixer-without-thiosulfate` does.
    let is_told = developer_without_preservative::check(mixture).is_some()
        || (mixture.role == Role::Fixer && (mixture.has(ACIDS) || !mixture.has(THIOSULFATES)));
    let sulfate = || mixture.first(&["sodium-sulfate"]).filter(|_| mixture.is_known && !mixture.has(SULFITES));
    let written = match mixture.role {
        Role::Developer | Role::Monobath | Role::Fixer if !is_told && mixture.has(WORKING) => {
            mixture.first(&["sodium-sulfide"]).or_else(sulfate)
        }
        Role::Clearing => mixture.first(&["sodium-sulfate", "sodium-sulfide", "sodium-thiosulfate"]),
        Role::Toner if mixture.is_known && mixture.parts.len() == 1 => {
            let sulfite = mixture.first(&["sodium-sulfite"])?;
            return Some(found(sulfite.span, sulfite.name(), "sodium-sulfide"));
        }
        _ => None,
    }?;
    Some(found(written.span, written.name(), "sodium-sulfite"))
}

fn found(span: Span, written: &str, meant: &str) -> Diagnostic {
    RULE.found(span, format!("{written} does not belong in such a bath"))
        .help(format!("is {meant} meant? The two are easily taken for each other"))
}
