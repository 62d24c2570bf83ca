//! The rule `capacities-disagree`.

use super::*;

rule! {
    /// # capacities-disagree: a `needs` and a capacity that differ more than tenfold
    ///
    /// `needs` states what a roll takes, and `treats … at stock` states how many rolls a volume treats. For each roll
    /// they differ by more than ten times.
    ///
    /// **Why.** One of the two figures has a digit too many or too few, and a card uses both.
    ///
    /// ```fires
    /// wetside 1
    /// solution dev {
    ///     role      developer
    ///     contains  metol, sodium-sulfite, borax
    ///     needs     5 ml per roll
    ///     treats    8 rolls per 1 l at stock
    /// }
    /// ```
    ///
    /// **Instead.** Correct the one that is wrong.
    ///
    /// ```quiet
    /// wetside 1
    /// solution dev {
    ///     role      developer
    ///     contains  metol, sodium-sulfite, borax
    ///     needs     250 ml per roll
    ///     treats    8 rolls per 1 l at stock
    /// }
    /// ```
    ///
    /// **Source.** Common practice, no source.
    Warning, Solution(check)
}

fn check(solution: &Solution) -> Option<Diagnostic> {
    let needs = solution.needs?;
    let is_stock = |treats: &&model::Treats| treats.at.as_ref().is_some_and(|at| at.water == 0 && at.parts.len() == 1);
    let treats = solution.treats.iter().find(is_stock)?;
    // A capacity that no solution has is reported only by `implausible-capacity`.
    if implausible_capacity::is_odd(solution, treats) {
        return None;
    }
    let each = treats.per.scaled(1, i64::from(treats.rolls));
    let apart = |one: Volume, other: Volume| other.scaled(10, 1) < one;
    (apart(needs.value, each) || apart(each, needs.value)).then(|| {
        let message = format!("by 'needs' a roll takes {}, and by its capacity {} ml", needs.value, each.in_ml(1));
        RULE.found(needs.span, message)
            .other(treats.span, "its capacity")
            .help("correct the one with the wrong figure")
    })
}
