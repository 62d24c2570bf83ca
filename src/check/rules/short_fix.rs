//! The rule `short-fix`.

use super::*;

rule! {
    /// # short-fix: fixing for less than twice the clearing time, or three times for tabular grain
    ///
    /// All fixing steps count together, as `N x clearing` or as a time. Tabular grain that is fixed for twice its
    /// clearing time or more is advice.
    ///
    /// **Why.** A film looks clear when half of the work is done. The salts left in it darken and stain in later
    /// years, and no wash removes them. Tabular grain takes longer.
    ///
    /// ```fires
    /// wetside 1
    /// solution fixer {
    ///     role      fixer
    /// }
    /// film f {
    ///     grain     tabular
    ///     clears    60 s in fixer stock at 20 C
    /// }
    /// recipe wrong {
    ///     film      f
    ///     fix {
    ///         in        fixer stock, one-shot
    ///         time      2 x clearing
    ///     }
    /// }
    /// ```
    ///
    /// ```fires
    /// wetside 1
    /// solution fixer {
    ///     role      fixer
    /// }
    /// film f {
    ///     grain     tabular
    ///     clears    60 s in fixer stock at 20 C
    /// }
    /// recipe too-short {
    ///     film      f
    ///     fix {
    ///         in        fixer stock, one-shot
    ///         time      2:30
    ///     }
    /// }
    /// ```
    ///
    /// **Instead.** Fix for twice the clearing time, three times for tabular grain.
    ///
    /// ```quiet
    /// wetside 1
    /// solution fixer {
    ///     role      fixer
    /// }
    /// film f {
    ///     grain     tabular
    ///     clears    60 s in fixer stock at 20 C
    /// }
    /// recipe right {
    ///     film      f
    ///     fix {
    ///         in        fixer stock, one-shot
    ///         time      3 x clearing, at least 3:00
    ///     }
    /// }
    /// ```
    ///
    /// **Source.** Twice: US Navy, Photography (Basic), NAVEDTRA 14209, 1993, chapter 10; US Army, Laboratory
    /// Procedures, subcourse SS0509, 1988, page 15; US Department of Defense, Nondestructive Inspection Methods, T.O.
    /// 33B-1-1, page 6-77. Three times for tabular grain: common practice, no source.
    Warning or Advice, Recipe(check)
}

/// In thousandths of the clearing time: the shortest fixing time for any film, which is twice the clearing time.
const TWICE: i64 = 2000;

pub(super) fn check(recipe: &Recipe) -> Option<Diagnostic> {
    let film = recipe.film.as_ref().map(|film| film.value.as_ref());
    let tabular = film.and_then(|film| film.grain) == Some(Grain::Tabular);
    let (wanted, why): (u32, _) = if tabular { (3, "tabular grain needs") } else { (2, "film needs") };
    let clearing = |step: &Step| film?.clearing_in(step.bath.as_ref()?);
    let fixes = || recipe.steps.iter().filter(|step| step.kind == StepKind::Fix);
    let step = fixes().next_back()?;
    let mut whole = 0_i64;
    for step in fixes() {
        whole = whole.saturating_add(thousandths(step, clearing(step))?);
    }
    if i64::from(wanted) * 1000 <= whole {
        return None;
    }
    let times = decimal(whole, 1000, 1);
    let message = format!("fixed for {times} times the clearing time; {why} {wanted} times");
    let found = RULE.weighed(TWICE <= whole, step.duration.span, message);
    let right = format!("time {wanted} x clearing");
    let found = match clearing(step) {
        Some(clearing) => {
            let fresh = clearing.time.times(wanted);
            found
                .other(clearing.span, "the clearing time")
                .help(format!("write: {right}; that is {fresh} in fresh fixer"))
        }
        None => found.help(format!("write: {right}")),
    };
    Some(found.choice(step.duration.span, right))
}

/// The time of a step in thousandths of the film's clearing time; `None` if unknown.
fn thousandths(step: &Step, clearing: Option<&Clearing>) -> Option<i64> {
    let share = |time: Time| Some(time.ms.saturating_mul(1000) / clearing?.time.ms.max(1));
    match &step.duration.value {
        Duration::Clearing { times, at_least, at_most } => {
            let floor = at_least.and_then(share).unwrap_or(0);
            let most = at_most.and_then(share).unwrap_or(i64::MAX);
            Some(floor.max(times.in_base(1000)?).min(most))
        }
        Duration::Plain { time, .. } => share(*time),
        _ => None,
    }
}
