//! A formula with something in it that burns, poisons or worse, and not a word about how to handle it.

use crate::chemistry::Hazard;
use crate::model::{Item, Solution, Substance};
use crate::source::Diagnostic;

rule! {
    /// # hazard-without-caution
    ///
    /// **What.** A formula holds an ingredient that kills, poisons, burns skin and eyes, can cause cancer or allergy of the lungs, or harms the unborn, and the solution has no `caution` of its own.
    ///
    /// **Why.** A card says of each ingredient what its label says. How to go about it in this formula, such as what goes into what, and what it must never meet, only its author can say, and whoever takes the recipe over has no other warning before the bottle is open.
    ///
    /// ```fires
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
    /// }
    /// ```
    ///
    /// **Instead.** Say what to do, in one line.
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
    ///     caution   "glacial acid burns: goggles and gloves, and slowly into the water"
    /// }
    /// ```
    ///
    /// A bought solution is not asked: its label is on its bottle.
    ///
    /// **Source.** The statements H300, H301, H310, H311, H314, H330, H331, H334, H340, H350 and H360 of the Globally Harmonized System. That a recipe repeats what they come to is common practice, no source.
    "hazard-without-caution", Warning, "a formula with something dangerous in it and no caution", Solution(look)
}

/// The beginnings of the codes that are meant, and what a caution might say of each.
const SEVERE: [(&str, &str); 11] = [
    ("H300", POISON),
    ("H310", POISON),
    ("H330", POISON),
    ("H301", POISON),
    ("H311", POISON),
    ("H331", POISON),
    ("H314", "burns skin and eyes: gloves and goggles, and slowly into the water"),
    ("H350", "can cause cancer: gloves, and no dust in the air"),
    ("H340", "can cause cancer: gloves, and no dust in the air"),
    ("H334", "mind asthma: weigh it where air is drawn away"),
    ("H360", "may harm the unborn child: gloves, and no dust in the air"),
];
const POISON: &str = "poison: gloves, no dust in the air, and under lock";

fn look(solution: &Solution, faults: &mut Vec<Diagnostic>) {
    if !solution.cautions.is_empty() {
        return;
    }
    let items = solution.formulas.iter().flat_map(|formula| &formula.items);
    let mut found = items.filter_map(|item| severe(item).map(|severe| (item, severe)));
    let Some((item, (name, hazard, caution))) = found.next() else { return };
    let message = format!("{name} {} ({}), and '{}' has no caution", hazard.text, hazard.code, solution.name);
    let finding = RULE.found(item.span, message);
    let finding = found.fold(finding, |finding, (item, (name, hazard, _))| {
        finding.other(item.span, format!("{name} {} ({})", hazard.text, hazard.code))
    });
    let help = format!("say in the solution how to go about it, such as: caution \"{name} {caution}\"");
    faults.push(finding.help(help));
}

/// What an item is, the worst that it can do, and what to say of it.
fn severe(item: &Item) -> Option<(&'static str, &'static Hazard, &'static str)> {
    let Substance::Known(ingredient) = item.what else { return None };
    SEVERE.iter().find_map(|(code, caution)| {
        let hazard = ingredient.hazards.iter().find(|hazard| hazard.code.starts_with(code))?;
        Some((ingredient.name, *hazard, *caution))
    })
}
