//! Acid that is measured out before the water it belongs in.

use crate::model::{Formula, Item, Solution, Substance};
use crate::source::Diagnostic;

rule! {
    /// # acid-before-water
    ///
    /// **What.** A formula names acetic or sulfuric acid before any water.
    ///
    /// **Why.** Formulas are mixed in the order in which they are written. Water poured onto strong acid boils where it meets it and throws the acid into the face of whoever pours.
    ///
    /// ```fires
    /// wetside 1
    /// solution stop-bath {
    ///     role      stop
    ///     formula for 1 l {
    ///         acetic-acid      17 ml glacial
    ///         water            to 1 l
    ///     }
    ///     treats    12 rolls per 1 l
    ///     keeps     3 months
    ///     caution   "glacial acid burns: goggles and gloves"
    /// }
    /// ```
    ///
    /// **Instead.** Begin with most of the water and put the acid into that.
    ///
    /// ```quiet
    /// wetside 1
    /// solution stop-bath {
    ///     role      stop
    ///     formula for 1 l {
    ///         water            750 ml at 20 C
    ///         acetic-acid      17 ml glacial
    ///         water            to 1 l
    ///     }
    ///     treats    12 rolls per 1 l
    ///     keeps     3 months
    ///     caution   "glacial acid burns: goggles and gloves"
    /// }
    /// ```
    ///
    /// **Source.** T.O. 33B-1-1, Nondestructive Inspection Methods, chapter 6: acid is added slowly to the water.
    "acid-before-water", Error, "acid listed before water in a formula", Solution(look)
}

/// The acids that are sold strong enough to boil water.
const ACIDS: [&str; 2] = ["acetic-acid", "sulfuric-acid"];

fn look(solution: &Solution, faults: &mut Vec<Diagnostic>) {
    for formula in &solution.formulas {
        let Some((acid, name, water)) = acid_first(formula) else { continue };
        faults.push(
            RULE.found(acid.span, format!("{name} comes before the water here, and water onto acid spits"))
                .other(water.span, "the first water comes only here")
                .help("begin the formula with most of its water, such as: water 750 ml at 20 C"),
        );
    }
}

/// The first acid, its name, and the first water, if the acid comes first.
pub(super) fn acid_first(formula: &Formula) -> Option<(&Item, &'static str, &Item)> {
    let water = formula.items.iter().position(|item| item.what == Substance::Water)?;
    let before = formula.items.iter().take(water);
    let (acid, name) = before.filter_map(|item| Some((item, acid(item)?))).next()?;
    Some((acid, name, formula.items.get(water)?))
}

fn acid(item: &Item) -> Option<&'static str> {
    let Substance::Known(ingredient) = item.what else { return None };
    ACIDS.contains(&ingredient.name).then_some(ingredient.name)
}
