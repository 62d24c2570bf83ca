//! The rule `bath-used-past-capacity`.

use super::*;

rule! {
    /// # bath-used-past-capacity: a bath that treated more film than its capacity
    ///
    /// With this session the bath has treated more film than its solution `treats`. The rule skips a replenished
    /// bath, and a bath whose clearing test since the previous session took less than twice the time in fresh
    /// fixer. It reports the first such session of each bath.
    ///
    /// **Why.** An exhausted fixer looks like a fresh one. Film from it keeps silver salts and turns brown in later
    /// years. It can still be fixed and washed again.
    ///
    /// ```fires
    /// wetside 1
    /// solution rapid-fix {
    ///     role      fixer
    ///     treats    2 rolls per 1 l at 1+4
    /// }
    /// bath fix-a {
    ///     in        rapid-fix 1+4
    ///     volume    1 l
    ///     mixed     2026-07-02
    /// }
    /// session one {
    ///     date      2026-08-05
    ///     recipe    estuary-400-mq, fingerprint "46ac83d1"
    ///     slot      1 120
    ///     slot      2 120
    ///     slot      3 120
    ///     bath      fix-a
    /// }
    /// ```
    ///
    /// **Instead.** Mix a fresh bath in time. If the bath was tested before the session, record the test.
    ///
    /// ```quiet
    /// wetside 1
    /// solution rapid-fix {
    ///     role      fixer
    ///     treats    2 rolls per 1 l at 1+4
    /// }
    /// bath fix-a {
    ///     in        rapid-fix 1+4
    ///     volume    1 l
    ///     mixed     2026-07-02
    /// }
    /// session one {
    ///     date      2026-08-05
    ///     recipe    estuary-400-mq, fingerprint "46ac83d1"
    ///     slot      1 120
    ///     slot      2 120
    ///     bath      fix-a
    /// }
    /// ```
    ///
    /// ```quiet
    /// wetside 1
    /// solution rapid-fix {
    ///     role      fixer
    ///     treats    2 rolls per 1 l at 1+4
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
    ///     date      2026-08-05
    ///     bath      fix-a
    ///     film      estuary-400
    ///     clears    1:00 at 20 C
    /// }
    /// session one {
    ///     date      2026-08-05
    ///     recipe    estuary-400-mq, fingerprint "46ac83d1"
    ///     slot      1 120
    ///     slot      2 120
    ///     slot      3 120
    ///     bath      fix-a
    /// }
    /// ```
    ///
    /// **Source.** US Navy, Photography (Basic), NAVEDTRA 14209, 1993, chapter 10: the life of a fixing bath.
    Advice, Usage(check)
}

fn check(usage: &Usage<'_>) -> Option<Diagnostic> {
    let capacity = usage.standing.capacity.filter(|capacity| !capacity.holds(usage.standing.treated))?;
    let tested = usage.was_tested_since(usage.before.unwrap_or(usage.standing.on));
    if tested || usage.standing.bath.solution.replenish.is_some() {
        return None;
    }
    let (treated, all) = (decimal(usage.standing.treated, Format::ROLL, 2), decimal(capacity.area(), Format::ROLL, 2));
    let name = &usage.standing.bath.name;
    let message = format!("after this session '{name}' has treated {treated} rolls, and its capacity is {all}");
    Some(
        RULE.found(usage.span, message)
            .other(capacity.span, "the capacity")
            .help("fix those rolls again in a fresh bath; or, if the bath was tested before, record the test"),
    )
}
