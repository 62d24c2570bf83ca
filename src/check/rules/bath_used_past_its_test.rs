//! The rule `bath-used-past-its-test`.

use super::*;

rule! {
    /// # bath-used-past-its-test: a bath used after a clearing test found it exhausted
    ///
    /// The newest test before the session took at least twice the clearing time in fresh fixer. The rule reports the
    /// first such session of each bath.
    ///
    /// **Why.** A fixer is exhausted when its clearing time has doubled. Film fixed after that keeps silver salts,
    /// and can still be fixed and washed again.
    ///
    /// ```fires
    /// wetside 1
    /// solution rapid-fix {
    ///     role      fixer
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
    ///     clears    1:30 at 20 C
    /// }
    /// session later {
    ///     date      2026-08-06
    ///     recipe    estuary-400-mq, fingerprint "46ac83d1"
    ///     slot      1 120
    ///     bath      fix-a
    /// }
    /// ```
    ///
    /// **Instead.** Discard a bath when a test takes twice the time in fresh fixer, and record it with `discarded`.
    ///
    /// ```quiet
    /// wetside 1
    /// solution rapid-fix {
    ///     role      fixer
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
    ///     clears    1:15 at 20 C
    /// }
    /// session later {
    ///     date      2026-08-06
    ///     recipe    estuary-400-mq, fingerprint "46ac83d1"
    ///     slot      1 120
    ///     bath      fix-a
    /// }
    /// ```
    ///
    /// **Source.** US Navy, Photography (Basic), NAVEDTRA 14209, 1993, chapter 10: a fixing bath is exhausted when the
    /// clearing time is double.
    Advice, Usage(check)
}

fn check(usage: &Usage<'_>) -> Option<Diagnostic> {
    let test = usage.standing.cleared.filter(|cleared| cleared.has_doubled())?.test;
    let message = format!("'{}' was found exhausted on {}", usage.standing.bath.name, test.date.value);
    let label = "at least twice the clearing time in fresh fixer";
    let finding = RULE.found(usage.span, message).other(test.time.span, label);
    (test.date.value < usage.standing.on).then(|| {
        finding.help("fix those rolls again in a fresh bath; or correct the day or the bath of the session")
    })
}
