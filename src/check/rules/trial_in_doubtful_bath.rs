//! The rule `trial-in-doubtful-bath`.

use super::*;

rule! {
    /// # trial-in-doubtful-bath: a trial in a bottle that was exhausted or expired on its day
    ///
    /// A trial may name the bottle of its developer, and its day. The rule reports a bottle that was not mixed yet,
    /// poured away, exhausted or past its keeping time then, and a bottle of another solution or dilution.
    ///
    /// **Why.** Tired developer gives less contrast in the same time. Every recipe that rests on the trial would
    /// develop too long in a fresh bath.
    ///
    /// ```fires
    /// wetside 2
    /// film marsh-100 {
    /// }
    /// solution soup {
    ///     role      developer
    ///     keeps     3 months
    /// }
    /// bath soup-a {
    ///     in        soup
    ///     volume    1 l
    ///     mixed     2026-05-02
    /// }
    /// trial marsh "The mill wall" {
    ///     date      2026-10-03
    ///     film      marsh-100
    ///     in        soup at 20 C
    ///     bath      soup-a
    ///     piece     6:00 "soft"
    ///     piece     8:00 "right"
    ///     piece     10:40 "hard"
    /// }
    /// ```
    ///
    /// **Instead.** Repeat the trial in fresh developer.
    ///
    /// ```quiet
    /// wetside 2
    /// film marsh-100 {
    /// }
    /// solution soup {
    ///     role      developer
    ///     keeps     3 months
    /// }
    /// bath soup-a {
    ///     in        soup
    ///     volume    1 l
    ///     mixed     2026-09-02
    /// }
    /// trial marsh "The mill wall" {
    ///     date      2026-10-03
    ///     film      marsh-100
    ///     in        soup at 20 C
    ///     bath      soup-a
    ///     piece     6:00 "soft"
    ///     piece     8:00 "right"
    ///     piece     10:40 "hard"
    /// }
    /// ```
    ///
    /// **Source.** Common practice, no source.
    Warning, Trial(check)
}

fn check(trial: &Trial, darkroom: &Darkroom) -> Vec<Diagnostic> {
    let Some(stated) = &trial.bath else { return Vec::new() };
    let bath = &stated.value;
    let name = &bath.name;
    // If the bottle is undiluted, the trial may have another dilution: each piece may have had fresh developer, diluted
    // from the bottle.
    let is_it = bath.solution.span == trial.solution.span
        && (bath.dilution.water == 0 || bath.dilution.reduced() == trial.dilution.reduced())
        && bath.part == trial.part;
    let other = (!is_it).then(|| {
        format!(
            "the bottle '{name}' holds {} {}, and the trial is in {} {}",
            bath.solution.name, bath.dilution, trial.solution.name, trial.dilution
        )
    });
    let state = trial.date.and_then(|on| {
        let standing = Standing::of(darkroom, bath, on);
        let what = if !standing.is_made() {
            "not mixed yet"
        } else if standing.is_discarded() {
            "already poured away"
        } else if standing.is_spent() {
            "exhausted"
        } else if standing.keeps_until.is_some_and(|until| until < on) {
            "past its keeping time"
        } else {
            return None;
        };
        Some(format!("on {on}, the day of the trial, the bottle '{name}' was {what}"))
    });
    let finding = |message: String| {
        let help = "repeat the trial in fresh developer, or correct the day or the bottle";
        RULE.found(stated.span, message).other(bath.mixed.span, "mixed here").help(help)
    };
    other.into_iter().chain(state).map(finding).collect()
}
