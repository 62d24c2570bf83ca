//! The rule `bleach-without-oxidiser`.

use super::*;

rule! {
    /// # bleach-without-oxidiser: a bleach without anything that oxidises silver
    ///
    /// **Why.** A bleach turns the silver of the image into a salt. Bromide, chloride and acid only decide which salt;
    /// without an oxidiser the image stays as it is.
    ///
    /// ```fires
    /// wetside 1
    /// solution bath {
    ///     role      bleach
    ///     formula for 1 l {
    ///         water            750 ml at 40 C
    ///         potassium-bromide 20 g
    ///         water            to 1 l
    ///     }
    ///     needs     100 ml per roll
    /// }
    /// ```
    ///
    /// **Instead.** Write the oxidiser of the formula: ferricyanide, dichromate, permanganate, a ferric salt, copper
    /// sulfate, persulfate, peroxide, iodine or mercuric chloride.
    ///
    /// ```quiet
    /// wetside 1
    /// solution bath {
    ///     role      bleach
    ///     formula for 1 l {
    ///         water            750 ml at 40 C
    ///         potassium-ferricyanide 50 g
    ///         potassium-bromide 20 g
    ///         water            to 1 l
    ///     }
    ///     needs     100 ml per roll
    /// }
    /// ```
    ///
    /// **Source.** Every published bleach that was counted has one of these oxidisers. Three were looked up in Wall,
    /// The Dictionary of Photography, c. 1902; the others are from memory.
    Warning, Mixture(check)
}

const OXIDISERS: &[&str] = &[
    "ammonium-ferric-edta",
    "ammonium-persulfate",
    "copper-sulfate",
    "ferric-sodium-edta",
    "hydrogen-peroxide",
    "iodine",
    "mercuric-chloride",
    "potassium-dichromate",
    "potassium-ferricyanide",
    "potassium-permanganate",
];

fn check(mixture: &Mixture<'_>) -> Option<Diagnostic> {
    if !mixture.is_known || mixture.role != Role::Bleach || mixture.has(OXIDISERS) {
        return None;
    }
    let message = format!("'{}' has no oxidiser, so it does not bleach", mixture.solution.name);
    let span = mixture.solution.formulas.first()?.makes.span;
    Some(RULE.found(span, message).help("add the line that is missing, such as: potassium-ferricyanide 50 g"))
}
