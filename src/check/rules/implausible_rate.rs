//! The rule `implausible-rate`.

use super::*;

rule! {
    /// # implausible-rate: a rate outside all published
    ///
    /// For 10 °C it is less than 1.1 or more than 5.
    ///
    /// **Why.** Published developers are between these limits: metol alone hardly depends on temperature, hydroquinone
    /// strongly. A card calculates its times with this number.
    ///
    /// ```fires
    /// wetside 1
    /// solution wrong {
    ///     role      developer
    ///     rate      2.4 per 5 C
    /// }
    /// ```
    ///
    /// **Instead.** Check the factor and the difference of temperature.
    ///
    /// ```quiet
    /// wetside 1
    /// solution right {
    ///     role      developer
    ///     rate      2.4 per 10 C
    /// }
    /// ```
    ///
    /// **Source.** For 10 °C, published factors are 1.25 to 4.24. 4.24 is from the chart of Minnesota Rules 4732.0555;
    /// 1.25, for metol, is from memory, not looked up.
    Warning, Solution(check)
}

fn check(solution: &Solution) -> Option<Diagnostic> {
    let rate = solution.rate?;
    let factor = libm::pow(rate.factor.real(), 10.0 / rate.interval.celsius());
    (!(1.1..=5.0).contains(&factor)).then(|| {
        let message = format!("a rate of {factor:.2} for 10 C; published are 1.25 to 4.24");
        RULE.found(rate.span, message).help("check both numbers, such as: rate 2.4 per 10 C")
    })
}
