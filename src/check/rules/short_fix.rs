//! Silver salts left in the film.

use crate::model::{Duration, Film, Grain, Recipe, Step, StepKind, Time};
use crate::source::Diagnostic;

rule! {
    /// # short-fix
    ///
    /// **What.** The fixing steps together take less than twice the film's clearing time, three times for tabular
    /// grain; as `N x clearing`, or as a time shorter than that by the film's `clears`.
    ///
    /// **Why.** A film looks clear when half of the work is done. What stays in it darkens and stains in years, and
    /// no wash takes it out. Tabular grain holds more iodide and takes longer.
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
    ///     wash {
    ///         soak      2:00 x 6
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
    ///     wash {
    ///         soak      2:00 x 6
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
    ///     wash {
    ///         soak      2:00 x 6
    ///     }
    /// }
    /// ```
    ///
    /// **Source.** Twice: NAVEDTRA 14209; US Army subcourse SS0509, page 15; T.O. 33B-1-1, page 6-77. Three times
    /// for tabular grain: common practice, no source.
    "short-fix", Warning, "fixing for less than twice the clearing time, or three times for tabular grain", Recipe(look)
}

fn look(recipe: &Recipe, faults: &mut Vec<Diagnostic>) {
    let film = recipe.film.as_ref().map(|film| film.value.as_ref());
    let tabular = film.and_then(|film| film.grain) == Some(Grain::Tabular);
    let wanted: u32 = if tabular { 3 } else { 2 };
    let fixes: Vec<&Step> = recipe.steps.iter().filter(|step| step.kind == StepKind::Fix).collect();
    let shares: Option<Vec<i64>> = fixes.iter().map(|step| thousandths(step, film)).collect();
    let (Some(shares), Some(step)) = (shares, fixes.last()) else { return };
    let whole = shares.iter().fold(0_i64, |sum, share| sum.saturating_add(*share));
    if i64::from(wanted) * 1000 <= whole {
        return;
    }
    let why = if tabular { "tabular grain wants" } else { "film wants" };
    let message = format!(
        "fixed for {} times the clearing time; {why} {wanted} times",
        crate::model::decimal(whole, 1000, 1)
    );
    let mut found = RULE.found(step.duration.span, message);
    if let Some(clearing) = film.and_then(|film| film.clearing_in(step.bath.as_ref()?)) {
        found = found.other(clearing.span, "how fast it clears").help(format!(
            "write: time {wanted} x clearing; that is {} in fresh fixer",
            clearing.time.times(wanted)
        ));
    } else {
        found = found.help(format!("write: time {wanted} x clearing"));
    }
    faults.push(found.choice(step.duration.span, format!("time {wanted} x clearing")));
}

/// How many thousandths of the clearing time a step takes; `None` if nothing tells.
fn thousandths(step: &Step, film: Option<&Film>) -> Option<i64> {
    let clearing = film.and_then(|film| film.clearing_in(step.bath.as_ref()?)).map(|clearing| clearing.time);
    let share = |time: Time| Some(time.ms.saturating_mul(1000) / clearing?.ms.max(1));
    match &step.duration.value {
        Duration::Clearing { times, at_least } => {
            let floor = at_least.and_then(share).unwrap_or(0);
            Some(floor.max(i64::from(*times) * 1000))
        }
        Duration::Plain { time, .. } => share(*time),
        Duration::Chart(_) | Duration::EachSide(_) | Duration::Changes(_) | Duration::Flow { .. } => None,
    }
}
