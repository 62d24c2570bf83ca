//! A formula whose first line is not water: there is nothing to dissolve it in yet.

use super::acid_before_water::acid_first;
use crate::model::{Solution, Substance};
use crate::source::Diagnostic;

rule! {
    /// # formula-starts-dry
    ///
    /// **What.** A formula has water, and begins with something else.
    ///
    /// **Why.** Formulas are mixed in the order in which they are written. Powder that water is poured on cakes, and hydroxide heats; and how warm the water is to be is not said at all.
    ///
    /// ```fires
    /// wetside 1
    /// solution plain-hypo {
    ///     role      fixer
    ///     formula for 1 l {
    ///         sodium-thiosulfate 250 g pentahydrate
    ///         water            to 1 l
    ///     }
    ///     treats    6 rolls per 1 l
    ///     keeps     4 weeks
    /// }
    /// ```
    ///
    /// **Instead.** Begin with most of the water, and say how warm it is.
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
    ///     treats    6 rolls per 1 l
    ///     keeps     4 weeks
    /// }
    /// ```
    ///
    /// **Source.** Published formulas begin so, as those of US Army subcourse SS0509; as a rule it is common practice, no source.
    "formula-starts-dry", Advice, "a formula that does not begin with water", Solution(look)
}

fn look(solution: &Solution, faults: &mut Vec<Diagnostic>) {
    for formula in &solution.formulas {
        let is_water = |what: &Substance| *what == Substance::Water;
        let Some(water) = formula.items.iter().find(|item| is_water(&item.what)) else { continue };
        let Some(first) = formula.items.first().filter(|first| !is_water(&first.what)) else { continue };
        // That is told already, and weighs more.
        if acid_first(formula).is_some() {
            continue;
        }
        let most = formula.makes.value.scaled(3, 4);
        faults.push(
            RULE.found(first.span, "the formula begins with this, and there is no water yet to dissolve it in")
                .other(water.span, "the first water comes only here")
                .help(format!("begin with most of the water, such as: water {} ml at 40 C", most.in_ml(0))),
        );
    }
}
