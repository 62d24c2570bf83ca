//! The rule `bath-used-past-keeping`.

use super::*;

rule! {
    /// # bath-used-past-keeping: a bath used after its keeping time
    ///
    /// The rule reports the first session in which a bath was used after its keeping time. It reports nothing if, after
    /// that time, a clearing test took less than twice as long as in fresh fixer.
    ///
    /// **Why.** An expired bath looks like a fresh one. Film from it may be thin or badly fixed.
    ///
    /// ```fires
    /// wetside 1
    /// solution rapid-fix {
    ///     role      fixer
    ///     keeps     3 months
    /// }
    /// bath fix-a {
    ///     in        rapid-fix 1+4
    ///     volume    1 l
    ///     mixed     2026-07-02
    /// }
    /// session late {
    ///     date      2026-11-05
    ///     recipe    estuary-400-mq, fingerprint "46ac83d1"
    ///     slot      1 120
    ///     bath      fix-a
    /// }
    /// ```
    ///
    /// **Instead.** Mix a fresh bath in time. If the bath was tested that day, record the test.
    ///
    /// ```quiet
    /// wetside 1
    /// solution rapid-fix {
    ///     role      fixer
    ///     keeps     3 months
    /// }
    /// bath fix-a {
    ///     in        rapid-fix 1+4
    ///     volume    1 l
    ///     mixed     2026-07-02
    /// }
    /// session in-time {
    ///     date      2026-09-05
    ///     recipe    estuary-400-mq, fingerprint "46ac83d1"
    ///     slot      1 120
    ///     bath      fix-a
    /// }
    /// ```
    ///
    /// ```quiet
    /// wetside 1
    /// solution rapid-fix {
    ///     role      fixer
    ///     keeps     3 months
    /// }
    /// film estuary-400 {
    ///     clears    45 s in rapid-fix 1+4 at 20 C
    /// }
    /// bath fix-a {
    ///     in        rapid-fix 1+4
    ///     volume    1 l
    ///     mixed     2026-07-02
    /// }
    /// test fix-a-1 {
    ///     date      2026-11-05
    ///     bath      fix-a
    ///     film      estuary-400
    ///     clears    1:00 at 20 C
    /// }
    /// session tested {
    ///     date      2026-11-05
    ///     recipe    estuary-400-mq, fingerprint "46ac83d1"
    ///     slot      1 120
    ///     bath      fix-a
    /// }
    /// ```
    ///
    /// **Source.** Common practice, no source. State rules for X-ray rooms have all chemicals replaced after two or
    /// three months: Washington Administrative Code 246-225-150; New Mexico Administrative Code 20.3.6.612, appendix C.
    Advice, Usage(check)
}

fn check(usage: &Usage<'_>) -> Option<Diagnostic> {
    let (bath, on) = (usage.standing.bath, usage.standing.on);
    let until = usage.standing.keeps_until.filter(|until| *until < on && !usage.was_tested_since(*until))?;
    let message = format!("the bath '{}' kept until {until}, and was used on {on}", bath.name);
    Some(
        RULE.found(usage.span, message)
            .other(bath.mixed.span, "mixed here")
            .help("inspect those negatives; mix a fresh bath, or test this one and record the test"),
    )
}
