//! The rule `formula-without-mark`.

use super::*;

rule! {
    /// # formula-without-mark: a formula without `water to`
    ///
    /// **Why.** Dissolved salts add volume: 100 g of sulfite in a litre of water give more than a litre. The
    /// developer is weaker than intended, and its times are too short.
    ///
    /// ```fires
    /// wetside 1
    /// solution mq {
    ///     role      developer
    ///     formula for 1 l {
    ///         water            1 l at 50 C
    ///         sodium-sulfite   100 g anhydrous
    ///     }
    /// }
    /// ```
    ///
    /// **Instead.** Dissolve in less water, then fill up to the mark.
    ///
    /// ```quiet
    /// wetside 1
    /// solution mq {
    ///     role      developer
    ///     formula for 1 l {
    ///         water            750 ml at 50 C
    ///         sodium-sulfite   100 g anhydrous
    ///         water            to 1 l
    ///     }
    /// }
    /// ```
    ///
    /// Liquids alone that add up to the volume need no mark.
    ///
    /// ```quiet
    /// wetside 1
    /// solution weak-acid {
    ///     role      stop
    ///     formula for 1 l {
    ///         water            720 ml at 20 C
    ///         acetic-acid      280 ml glacial
    ///     }
    /// }
    /// ```
    ///
    /// A stock in another liquid has no water to fill up with.
    ///
    /// ```quiet
    /// wetside 1
    /// solution restrainer {
    ///     role      developer
    ///     formula for 100 ml {
    ///         isopropyl-alcohol 100 ml 99 %
    ///         benzotriazole    1 g
    ///     }
    /// }
    /// ```
    ///
    /// **Source.** Published formulas end with water up to the volume, such as those of US Army, Laboratory Procedures,
    /// subcourse SS0509, 1988, pages 14 to 16.
    Warning, Formula(check)
}

fn check(formula: &Formula) -> Option<Diagnostic> {
    let marked = formula.items.iter().any(|item| matches!(item.measure, Measure::UpTo(_)));
    let last = formula.items.last().filter(|_| !marked && !adds_up(formula) && !is_without_water(formula))?;
    let finding = RULE.found(formula.makes.span, "the formula does not end with water up to its volume");
    let makes = formula.makes.value.in_ml(3);
    let exact = Number::parse(&makes).and_then(|number| Volume::of(number, Volume::ML));
    Some(if exact == Some(formula.makes.value) {
        let line = format!("\n        water            to {makes} ml");
        finding.change(last.span.after(), line, format!("end it with: water to {makes} ml"), false)
    } else {
        finding.help("end it with water to the volume it makes, such as: water to 1 us-qt")
    })
}

fn is_without_water(formula: &Formula) -> bool {
    let is_liquid = |item: &FormulaItem| matches!(item.measure, Measure::Volume(_) | Measure::VolumePerLitre(_));
    formula.items.iter().all(|item| item.what != Substance::Water) && formula.items.iter().any(is_liquid)
}

fn adds_up(formula: &Formula) -> bool {
    let volume = |item: &FormulaItem| match item.measure {
        Measure::Volume(volume) => Some(volume),
        _ => None,
    };
    let sum = formula.items.iter().try_fold(Volume::ZERO, |sum, item| Some(sum + volume(item)?));
    sum == Some(formula.makes.value)
}
