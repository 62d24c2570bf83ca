//! A tank without its fill and drain times.

use super::*;

rule! {
    /// # tank-without-times
    ///
    /// **What.** A tank does not say how long it takes to fill, or to drain.
    ///
    /// **Why.** A card counts what is not said as 0:00. The bottom of a tall tank then stands in the developer for half a minute longer than its top, and nobody has reckoned with it.
    ///
    /// ```fires
    /// wetside 1
    /// tank twin {
    ///     reels     120 x 1, 500 ml each
    ///     holds     650 ml
    /// }
    /// ```
    ///
    /// **Instead.** Fill it with water once, drain it once, and write down what the clock says.
    ///
    /// ```quiet
    /// wetside 1
    /// tank twin {
    ///     reels     120 x 1, 500 ml each
    ///     holds     650 ml
    ///     fill      10 s
    ///     drain     10 s
    /// }
    /// ```
    ///
    /// **Source.** NAVEDTRA 14209, Photography (Basic), page 10-24: filling takes 10 to 20 s, and draining begins when 10 s are left.
    "tank-without-times", Advice, "a tank that does not say how long it takes to fill and to drain", Tank(check)
}

fn check(tank: &Tank) -> Option<Diagnostic> {
    let (what, line) = match (&tank.fill, &tank.drain) {
        (Some(_), Some(_)) => return None,
        (None, Some(_)) => ("fill time", "fill 10 s"),
        (Some(_), None) => ("drain time", "drain 10 s"),
        (None, None) => ("fill and drain times", "fill 10 s, and: drain 10 s"),
    };
    let message = format!("'{}' has no {what}; a card counts 0:00", tank.name);
    let help = format!("time it with water and add a line such as: {line}");
    Some(RULE.found(tank.span, message).help(help))
}
