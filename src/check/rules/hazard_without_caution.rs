//! The rule `hazard-without-caution`.

use super::*;
use crate::chemistry::Held;

rule! {
    /// # hazard-without-caution: a formula with a dangerous ingredient and no caution
    ///
    /// An ingredient is toxic, burns skin and eyes, can cause cancer or asthma, or harms the unborn child.
    ///
    /// **Why.** A card repeats the label of each ingredient. Only the author can say how to handle it in this
    /// formula, and what must never be mixed with it.
    ///
    /// ```fires
    /// wetside 1
    /// solution stop-bath {
    ///     role      stop
    ///     formula for 1 l {
    ///         water            1 l at 20 C
    ///         acetic-acid      17 ml glacial
    ///     }
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
    ///         water            1 l at 20 C
    ///         acetic-acid      17 ml glacial
    ///     }
    ///     caution   "glacial acid burns: goggles and gloves, and slowly into the water"
    /// }
    /// ```
    ///
    /// A bought solution has its label on the bottle.
    ///
    /// **Source.** The statements H300, H301, H310, H311, H314, H330, H331, H334, H340, H350 and H360 of the United
    /// Nations, Globally Harmonized System, annex 3.
    Warning, Solution(check)
}

/// Severe hazards, the worst first. Each row has the beginnings of the codes of hazard statements (`H360` also means
/// `H360FD`), and the caution to write.
const SEVERE: [(&str, &str); 5] = [
    ("H300 H310 H330 H301 H311 H331", "is a poison: wear gloves, raise no dust, lock it away"),
    ("H314", "burns skin and eyes: wear gloves and goggles, pour it slowly into the water"),
    ("H350 H340", "can cause cancer: wear gloves, raise no dust"),
    ("H334", "can cause asthma: weigh it under an extractor"),
    ("H360", "may harm the unborn child: wear gloves, raise no dust"),
];

fn check(solution: &Solution) -> Option<Diagnostic> {
    if !solution.cautions.is_empty() {
        return None;
    }
    let mut found = solution.items().filter_map(|item| severe(solution, item));
    let (span, name, words, caution) = found.next()?;
    let finding = RULE.found(span, format!("{words}, and '{}' has no caution", solution.name));
    let finding = found.fold(finding, |finding, (span, _, words, _)| finding.other(span, words));
    Some(finding.help(format!("add a caution to the solution, such as: caution \"{name} {caution}\"")))
}

/// The span and the name of a dangerous ingredient, a text with its worst hazard, and a caution to write; `None` if it
/// is not dangerous.
fn severe<'a>(solution: &Solution, item: &'a FormulaItem) -> Option<(Span, &'a str, String, &'static str)> {
    let name = item.what.name();
    let hazards = match item.what {
        Substance::Water => return None,
        Substance::Known(ingredient) => {
            let strength = item.strength.map(|share| share.basis_points);
            Held { ingredient, strength }.hazards().to_vec()
        }
        Substance::Other(_) => {
            let own = solution.declared.iter().find(|own| own.ingredient.name == name)?;
            own.ingredient.all_hazards()
        }
    };
    SEVERE.iter().find_map(|(codes, caution)| {
        let of = |code| hazards.iter().find(|hazard| hazard.code.starts_with(code));
        let hazard = codes.split(' ').find_map(of)?;
        let words = format!("{name} {} ({})", hazard.text, hazard.code);
        Some((item.span, name, words, *caution))
    })
}
