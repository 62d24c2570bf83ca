//! The rule `out-of-proportion`.

use super::*;

rule! {
    /// # out-of-proportion: agents or bromide in a proportion that no published developer has
    ///
    /// Hydroquinone to metol is outside 0.3 to 50 by weight, hydroquinone to phenidone outside 5 to 120, or bromide
    /// is over 1.2 of all agents, with hydroxide over 1.5.
    ///
    /// **Why.** Each amount alone may be sound, but beside the others it is a slip of a digit.
    ///
    /// ```fires
    /// wetside 1
    /// solution bath {
    ///     role      developer
    ///     formula for 1 l {
    ///         water            750 ml at 40 C
    ///         metol            10 g
    ///         sodium-sulfite   100 g anhydrous
    ///         hydroquinone     1 g
    ///         borax            2 g decahydrate
    ///         water            to 1 l
    ///     }
    ///     needs     250 ml per roll
    /// }
    /// ```
    ///
    /// **Instead.** Correct the figure that is wrong.
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
    /// **Source.** By weight, hydroquinone is 0.64 to 33 times the metol in 31 published formulas, and 10 to 39 times
    /// the phenidone in 8. Bromide is at most 1.0 times all agents in 53. Some were looked up, the others are from
    /// memory.
    Warning, Mixture(check)
}

/// Two developing agents, and the least and the greatest plausible weight of the first for each gram of the second.
const PAIRS: [(&str, &str, f64, f64); 2] =
    [("hydroquinone", "metol", 0.3, 50.0), ("hydroquinone", "phenidone", 5.0, 120.0)];

fn check(mixture: &Mixture<'_>) -> Option<Diagnostic> {
    if mixture.role != Role::Developer {
        return None;
    }
    let mut pairs = PAIRS.iter().filter_map(|(one, other, least, most)| {
        proportion(mixture, &[one], &[other], *least, *most).map(|found| (found, *other))
    });
    let agents = if mixture.has(LYES) { 1.5 } else { 1.2 };
    // An ingredient outside the program's table may be a developing agent. The weight of all agents is then unknown.
    let knows_agents = !mixture.has_other();
    let bromide = || Some((proportion(mixture, BROMIDES, AGENTS, 0.0, agents).filter(|_| knows_agents)?, "all agents"));
    // Only one proportion is reported, because one wrong figure may spoil several.
    let (((span, name), ratio), other) = pairs.next().or_else(bromide)?;
    let message = format!("there is {} times as much {name} as {other}", figures(ratio));
    Some(RULE.found(span, message).help("check both figures and their units"))
}

/// The line and the name of the first ingredient of `one`, and the weight of `one` divided by that of `others`. `None`
/// if this ratio is from `least` to `most`, or is unknown.
fn proportion(
    mixture: &Mixture<'_>,
    one: &[&str],
    others: &[&str],
    least: f64,
    most: f64,
) -> Option<((Span, &'static str), f64)> {
    let part = mixture.first(one)?;
    mixture.first(others)?;
    // An implausible amount is not reported here, but by `implausible-amount` or `does-not-dissolve`.
    if mixture.is_odd(one) || mixture.is_odd(others) {
        return None;
    }
    let (amount, beside) = (mixture.sum(one)?, mixture.sum(others)?);
    let ratio = amount / beside;
    (beside > 0.0 && !(least..=most).contains(&ratio)).then_some(((part.span, part.name()), ratio))
}
