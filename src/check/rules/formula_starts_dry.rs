//! The rule `formula-starts-dry`.

use super::*;

rule! {
    /// # formula-starts-dry: a formula that does not begin with water
    ///
    /// **Why.** Formulas are mixed in the order written. Powder cakes under poured water, and hydroxide heats.
    ///
    /// ```fires
    /// wetside 1
    /// solution plain-hypo {
    ///     role      fixer
    ///     formula for 1 l {
    ///         sodium-thiosulfate 250 g pentahydrate
    ///         water            to 1 l
    ///     }
    /// }
    /// ```
    ///
    /// **Instead.** Begin with most of the water, and state its temperature.
    ///
    /// ```quiet
    /// wetside 1
    /// solution plain-hypo {
    ///     role      fixer
    ///     formula for 1 l {
    ///         water            600 ml at 40 C
    ///         sodium-thiosulfate 250 g pentahydrate
    ///         water            to 1 l
    ///     }
    /// }
    /// ```
    ///
    /// A solution is not dry, so it may come first.
    ///
    /// ```quiet
    /// wetside 1
    /// solution hardener {
    ///     role      hardener
    ///     formula for 1 l {
    ///         formaldehyde     40 ml 37 %
    ///         water            to 1 l
    ///     }
    ///     caution   "formaldehyde is poison: gloves, and out of doors"
    /// }
    /// ```
    ///
    /// **Source.** Published formulas begin with water, such as those of US Army, Laboratory Procedures, subcourse
    /// SS0509, 1988, pages 14 to 16.
    Advice, Formula(check)
}

fn check(formula: &Formula) -> Option<Diagnostic> {
    let water = formula.items.iter().find(|item| item.what == Substance::Water)?;
    let first = formula.items.first().filter(|first| first.what != Substance::Water)?;
    if matches!(first.measure, Measure::Volume(_) | Measure::VolumePerLitre(_)) {
        return None;
    }
    // A formula with an acid before its water is reported only by `acid-before-water`.
    if super::acid_before_water::acid_first(formula).is_some() {
        return None;
    }
    let most = formula.makes.value.scaled(3, 4).in_ml(0);
    Some(
        RULE.found(first.span, "the formula begins with this, before any water to dissolve it")
            .other(water.span, "the first water")
            .help(format!("begin with most of the water, such as: water {most} ml at 40 C")),
    )
}
