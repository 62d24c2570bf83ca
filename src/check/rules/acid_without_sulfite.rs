//! The rule `acid-without-sulfite`.

use super::*;

rule! {
    /// # acid-without-sulfite: acid on thiosulfate without enough sulfite
    ///
    /// An acid is beside thiosulfate without sulfite, or with less than 0.25 g for each millilitre of pure acetic
    /// acid. Bisulfite and metabisulfite count as sulfite.
    ///
    /// **Why.** Acid frees sulfur from thiosulfate, and the fixer turns to milk. Sulfite prevents it.
    ///
    /// ```fires
    /// wetside 1
    /// solution bath {
    ///     role      fixer
    ///     formula for 1 l {
    ///         water            750 ml at 40 C
    ///         ammonium-thiosulfate 200 ml 60 %
    ///         acetic-acid      9 ml glacial
    ///         water            to 1 l
    ///     }
    ///     treats    20 rolls per 1 l at stock
    /// }
    /// ```
    ///
    /// **Instead.** Add the sulfite, before the acid.
    ///
    /// ```quiet
    /// wetside 1
    /// solution bath {
    ///     role      fixer
    ///     formula for 1 l {
    ///         water            750 ml at 40 C
    ///         ammonium-thiosulfate 200 ml 60 %
    ///         sodium-sulfite   12 g anhydrous
    ///         acetic-acid      9 ml glacial
    ///         water            to 1 l
    ///     }
    ///     treats    20 rolls per 1 l at stock
    /// }
    /// ```
    ///
    /// **Source.** The more sulfite, the longer a fixer stays clear of sulfur: American Cinematographer, November 1929,
    /// page 9; US Army, Laboratory Procedures, subcourse SS0509, 1988, page 16 (from memory, not looked up). The limit:
    /// 9 published fixers have 0.37 to 1.7 g of sulfite for each millilitre of acetic acid. Some were looked up, the
    /// others are from memory.
    Warning, Mixture(check)
}

/// The least sulfite that is enough, in grams for each millilitre of pure acetic acid.
const LEAST: f64 = 0.25;

fn check(mixture: &Mixture<'_>) -> Option<Diagnostic> {
    let acid = mixture.first(ACIDS).filter(|_| mixture.is_known && mixture.fixes() && mixture.has(THIOSULFATES))?;
    if mixture.is_odd(ACIDS) || mixture.has(BISULFITES) {
        return None;
    }
    let finding = |message: String| RULE.found(acid.span, message);
    if !mixture.has(&["sodium-sulfite"]) {
        let found = finding(format!("{} without sulfite frees sulfur from the thiosulfate", acid.name()));
        return Some(match (acid.name(), mixture.has(&["sodium-sulfate"])) {
            ("sodium-bisulfate", _) => found.help("is sodium-bisulfite meant? The two are easily taken for each other"),
            (_, true) => found.help("is sodium-sulfite meant, and not sulfate? They are easily taken for each other"),
            _ => found.help("add before it a line such as: sodium-sulfite 15 g anhydrous"),
        });
    }
    let (sulfite, acetic) = (mixture.sum(&["sodium-sulfite"])?, mixture.sum(&["acetic-acid"])?);
    (sulfite < LEAST * acetic).then(|| {
        let (sulfite, acetic) = (figures(sulfite), figures(acetic));
        let message = format!("{sulfite} g/l of sulfite are too little for {acetic} ml/l of pure acid");
        finding(message).help("check the amounts of the acid and of the sulfite, and the acid's strength")
    })
}
