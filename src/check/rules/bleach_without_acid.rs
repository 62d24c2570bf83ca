//! The rule `bleach-without-acid`.

use super::*;

rule! {
    /// # bleach-without-acid: dichromate or permanganate without an acid
    ///
    /// The acid may be in the other bottle: sulfuric acid, hydrochloric acid, bisulfate, or a weaker one.
    ///
    /// **Why.** Without acid neither dissolves silver, and the negative stays in the film.
    ///
    /// ```fires
    /// wetside 1
    /// solution bath {
    ///     role      bleach
    ///     formula for 1 l {
    ///         water            750 ml at 40 C
    ///         potassium-dichromate 9.5 g
    ///         water            to 1 l
    ///     }
    ///     needs     100 ml per roll
    ///     caution   "poison: gloves, no dust"
    /// }
    /// ```
    ///
    /// **Instead.** Add the acid of the formula.
    ///
    /// ```quiet
    /// wetside 1
    /// solution bath {
    ///     role      bleach
    ///     formula for 1 l {
    ///         water            750 ml at 40 C
    ///         potassium-dichromate 9.5 g
    ///         sodium-bisulfate 24 g monohydrate
    ///         water            to 1 l
    ///     }
    ///     needs     100 ml per roll
    ///     caution   "poison: gloves, no dust"
    /// }
    /// ```
    ///
    /// **Source.** 6 published bleaches with dichromate or permanganate were counted, and all have an acid. Three were
    /// looked up in Wall, The Dictionary of Photography, c. 1902; the others are from memory.
    Warning, Mixture(check)
}

const OXIDISERS: &[&str] = &["potassium-dichromate", "potassium-permanganate"];

fn check(mixture: &Mixture<'_>) -> Option<Diagnostic> {
    let oxidiser = mixture.first(OXIDISERS).filter(|_| mixture.is_known && mixture.role == Role::Bleach)?;
    if mixture.has(ACIDS) {
        return None;
    }
    let finding = RULE.found(oxidiser.span, format!("{} does not bleach without an acid", oxidiser.name()));
    Some(match mixture.first(BISULFITES) {
        Some(part) => finding
            .other(part.span, "no acid, but what takes the oxidiser away")
            .help("is sodium-bisulfate meant? Bisulfite and bisulfate are easily taken for each other"),
        None => finding.help("add a line such as: sodium-bisulfate 24 g monohydrate"),
    })
}
