//! A formula that does not say up to where the water goes.

use crate::model::{Formula, Measure, Number, Solution, Volume};
use crate::source::Diagnostic;

rule! {
    /// # formula-without-mark
    ///
    /// **What.** A formula has no `water to`.
    ///
    /// **Why.** What is dissolved takes up room: 100 g of sulfite in a litre of water are more than a litre of developer, which is then weaker than it was meant to be, and its times are too short.
    ///
    /// ```fires
    /// wetside 1
    /// solution mq {
    ///     role      developer
    ///     formula for 1 l {
    ///         water            1 l at 50 C
    ///         metol            2 g
    ///         sodium-sulfite   100 g anhydrous
    ///     }
    ///     needs     250 ml per roll
    ///     keeps     6 months
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
    ///         metol            2 g
    ///         sodium-sulfite   100 g anhydrous
    ///         water            to 1 l
    ///     }
    ///     needs     250 ml per roll
    ///     keeps     6 months
    /// }
    /// ```
    ///
    /// Liquids that add up to what the formula makes need no mark.
    ///
    /// ```quiet
    /// wetside 1
    /// solution weak-acid {
    ///     role      stop
    ///     formula for 1 l {
    ///         water            720 ml at 20 C
    ///         acetic-acid      280 ml glacial
    ///     }
    ///     treats    12 rolls per 1 l at 1+20
    ///     keeps     1 years
    ///     caution   "burns skin and eyes: goggles, and slowly into the water"
    /// }
    /// ```
    ///
    /// **Source.** Published formulas end so, as those of US Army subcourse SS0509; as a rule it is common practice, no source.
    "formula-without-mark", Warning, "a formula without the mark that water goes up to", Solution(look)
}

fn look(solution: &Solution, faults: &mut Vec<Diagnostic>) {
    for formula in &solution.formulas {
        let marked = formula.items.iter().any(|item| matches!(item.measure, Measure::UpTo(_)));
        let Some(last) = formula.items.last().filter(|_| !marked && !adds_up(formula)) else { continue };
        let finding = RULE.found(formula.makes.span, "the formula does not say up to where the water goes");
        let makes = formula.makes.value.in_ml(3);
        let exact = Number::parse(&makes).and_then(|number| Volume::of(number, Volume::ML));
        faults.push(if exact == Some(formula.makes.value) {
            let line = format!("\n        water            to {makes} ml");
            let title = format!("end it with: water to {makes} ml");
            finding.change(last.span.after(), line, title, false)
        } else {
            finding.help("end it with water to what it makes, such as: water to 1 us-qt")
        });
    }
}

/// Whether it is mixed of liquids alone, which come to what it makes.
fn adds_up(formula: &Formula) -> bool {
    let volumes: Option<Vec<Volume>> = formula.items.iter().map(|item| liquid(item.measure)).collect();
    let sum = |volumes: Vec<Volume>| volumes.into_iter().fold(Volume::ZERO, |sum, volume| sum + volume);
    volumes.is_some_and(|volumes| sum(volumes) == formula.makes.value)
}

fn liquid(measure: Measure) -> Option<Volume> {
    match measure {
        Measure::Volume(volume) => Some(volume),
        Measure::UpTo(_) | Measure::Mass(_) | Measure::MassPerLitre(_) | Measure::VolumePerLitre(_) => None,
    }
}
