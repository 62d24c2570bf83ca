//! The rule `tank-without-times`.

use super::*;

rule! {
    /// # tank-without-times: a tank without its fill and drain times
    ///
    /// **Why.** A card counts a missing time as 0:00. The bottom of a tall tank is then in the developer longer
    /// than its top.
    ///
    /// ```fires
    /// wetside 1
    /// tank twin {
    ///     reels     120 x 1, 500 ml each
    /// }
    /// ```
    ///
    /// **Instead.** Fill it with water once, drain it once, and write down both times.
    ///
    /// ```quiet
    /// wetside 1
    /// tank twin {
    ///     reels     120 x 1, 500 ml each
    ///     fill      10 s
    ///     drain     10 s
    /// }
    /// ```
    ///
    /// Where the film moves from bath to bath, nothing is filled or drained.
    ///
    /// ```quiet
    /// wetside 2
    /// tank line {
    ///     reels     120 x 12, 500 ml each
    ///     transfer  12 s
    /// }
    /// ```
    ///
    /// **Source.** US Navy, Photography (Basic), NAVEDTRA 14209, 1993, page 10-24: filling takes 10 to 20 s, and
    /// draining begins when 10 s are left.
    Advice, Tank(check)
}

fn check(tank: &Tank) -> Option<Diagnostic> {
    if tank.transfer.is_some() {
        return None;
    }
    let (what, line) = match (&tank.fill, &tank.drain) {
        (Some(_), Some(_)) => return None,
        (None, Some(_)) => ("fill time", "fill 10 s"),
        (Some(_), None) => ("drain time", "drain 10 s"),
        (None, None) => ("fill and drain times", "fill 10 s, and on the next line: drain 10 s"),
    };
    let message = format!("'{}' has no {what}; cards assume 0:00", tank.name);
    let help = format!("measure it with water and add your own time, such as: {line}");
    Some(RULE.found(tank.span, message).help(help))
}
