//! The rule `developer-without-preservative`.

use super::*;

rule! {
    /// # developer-without-preservative: a developer without sulfite
    ///
    /// It has less than 2 g/l of sulfite, bisulfite or metabisulfite at work. Developers with pyrogallol, catechol,
    /// ascorbic acid, ferrous oxalate, coffee or a colour developing agent do without.
    ///
    /// **Why.** Without sulfite an agent is spent by the air within minutes, and stains the film.
    ///
    /// ```fires
    /// wetside 1
    /// solution bath {
    ///     role      developer
    ///     formula for 1 l {
    ///         water            750 ml at 40 C
    ///         metol            2 g
    ///         sodium-sulfate   100 g anhydrous
    ///         hydroquinone     5 g
    ///         borax            2 g decahydrate
    ///         water            to 1 l
    ///     }
    ///     needs     250 ml per roll
    /// }
    /// ```
    ///
    /// **Instead.** Add the sulfite. Sulfate, sulfide and thiosulfate are other salts.
    ///
    /// ```quiet
    /// wetside 1
    /// solution bath {
    ///     role      developer
    ///     formula for 1 l {
    ///         water            750 ml at 40 C
    ///         metol            2 g
    ///         sodium-sulfite   100 g anhydrous
    ///         hydroquinone     5 g
    ///         borax            2 g decahydrate
    ///         water            to 1 l
    ///     }
    ///     needs     250 ml per roll
    /// }
    /// ```
    ///
    /// ```quiet
    /// wetside 1
    /// solution bath {
    ///     role      developer
    ///     formula for 1 l {
    ///         water            750 ml at 40 C
    ///         borax            6.4 g decahydrate
    ///         sodium-hydroxide 1.8 g
    ///         ascorbic-acid    2.1 g
    ///         metol            0.21 g
    ///         water            to 1 l
    ///     }
    ///     needs     300 ml per roll
    /// }
    /// ```
    ///
    /// **Source.** Of 68 published developers with metol or hydroquinone, the one with the least sulfite has 5 g/l.
    /// Some were looked up, the others are from memory. Developers with ascorbic acid and without sulfite: common
    /// practice, no source.
    Warning, Mixture(check)
}

/// The least sulfite in the bath as diluted for use, in grams a litre.
const LEAST: f64 = 2.0;
const TAKEN_FOR_SULFITE: &[&str] = &["sodium-sulfate", "sodium-sulfide", "sodium-thiosulfate"];

pub(super) fn check(mixture: &Mixture<'_>) -> Option<Diagnostic> {
    let keeps = mixture.has(KEEP_ALONE) || !mixture.has(AGENTS);
    // An implausible amount is not reported here, but by `implausible-amount` or `does-not-dissolve`.
    let is_odd = [&["sodium-thiosulfate"], SULFITES, AGENTS].into_iter().any(|names| mixture.is_odd(names));
    if !mixture.is_known || !mixture.develops() || keeps || is_odd {
        return None;
    }
    let sulfites = || mixture.parts.iter().filter(|part| is_in(SULFITES, part.name()));
    // A concentrate with this agent is diluted so far that the bath has little sulfite, so its undiluted amount is
    // compared.
    let is_syrup = mixture.has(&["p-aminophenol-hydrochloride"]);
    let amounts = sulfites().map(|part| if is_syrup { part.sum() } else { mixture.strongest(part) });
    let amount: f64 = amounts.sum::<Option<f64>>()?;
    if amount >= LEAST {
        return None;
    }
    if let Some(part) = mixture.first(TAKEN_FOR_SULFITE).filter(|_| sulfites().next().is_none()) {
        let message = format!("{} is in the formula, and the developer has no sulfite", part.name());
        return Some(RULE.found(part.span, message).help("is sodium-sulfite meant? The two are easily taken for each other"));
    }
    let name = &mixture.solution.name;
    let (span, message) = match sulfites().next() {
        Some(part) => {
            let held = format!("{} g/l of sulfite in the working solution", figures(amount));
            (part.span, format!("'{name}' has {held}, too little to keep it"))
        }
        None => (mixture.solution.formulas.first()?.makes.span, format!("'{name}' has no sulfite to keep it from the air")),
    };
    Some(RULE.found(span, message).help("add or correct its line, such as: sodium-sulfite 100 g anhydrous"))
}
