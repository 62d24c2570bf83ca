//! The rule `implausible-time`.

use super::*;

rule! {
    /// # implausible-time: a step far shorter or longer than any published
    ///
    /// The limits are: a development at most 45 min, unless its agitation says `stand`, `none` or `at`; a stop 8 s to
    /// 10 min; a fix 20 s to 30 min; a bleach at least 30 s; a bleach-fix at least 2 min; a wash aid 20 s to 15 min;
    /// wetting agent at most 10 min; drying at least 10 min, unless alcohol comes before it. A fix of more than 15 min
    /// in an acid rapid fixer and a presoak of more than 15 min are advice. `short-development` and `short-fix` report
    /// times that are too short for those steps.
    ///
    /// **Why.** Such a time is usually a slip, as in `1 s` for `1 min`. A step that is too short does nothing, and
    /// hours in a bath soften or bleach the picture.
    ///
    /// ```fires
    /// wetside 1
    /// recipe wrong {
    ///     stop {
    ///         in        water
    ///         time      1 s
    ///     }
    /// }
    /// ```
    ///
    /// ```fires
    /// wetside 1
    /// recipe still-wet {
    ///     dry {
    ///         time      2 min
    ///     }
    /// }
    /// ```
    ///
    /// **Instead.** Check the number and its unit against the source.
    ///
    /// ```quiet
    /// wetside 1
    /// recipe right {
    ///     stop {
    ///         in        water
    ///         time      30 s
    ///     }
    ///     dry {
    ///         time      2 h
    ///     }
    /// }
    /// ```
    ///
    /// **Source.** Stops take 15 s, 30 s or 3 min, fixing up to 15 min (prints 10 min), and drying with a fan half an
    /// hour: US Army, Laboratory Procedures, subcourse SS0509, 1988, pages 13 to 24; US Navy, Photography (Basic),
    /// NAVEDTRA 14209, 1993, chapter 10; US Department of Defense, Nondestructive Inspection Methods, T.O. 33B-1-1,
    /// pages 6-74 to 6-83. Fixing takes 20 min: Schriever (ed.), Complete Self-Instructing Library of Practical
    /// Photography, 1909. The times for bleach, bleach-fix, stand development and presoak: from memory, not looked up.
    Warning or Advice, Recipe(check)
}

/// The limits of plausible times for a kind of step, and the published times as text.
struct Bounds {
    is_for: fn(&Step) -> bool,
    /// The shortest plausible time, in seconds.
    least: i64,
    /// The longest plausible time, in seconds.
    most: i64,
    published: &'static str,
    is_mild: bool,
}

/// The value of `most` for a kind of step without an upper limit.
const ANY: i64 = i64::MAX / 1000;

/// A step is reported for one row only: the first row for its kind whose limits exclude its time.
const BOUNDS: &[Bounds] = &[
    bounds(is_moved_development, 0, 45 * 60, "to 20 min, and to 2 h for stand development"),
    bounds(|step| step.kind == StepKind::Stop, 8, 600, "15 s to 3 min"),
    bounds(|step| step.kind == StepKind::Fix, 20, 30 * 60, "twice the clearing time to 20 min"),
    bounds(|step| step.kind == StepKind::Bleach, 30, ANY, "3 to 6.5 min"),
    bounds(|step| step.kind == StepKind::BleachFix, 120, ANY, "6.5 to 10 min"),
    bounds(is_wash_aid, 20, 15 * 60, "about 2 min"),
    bounds(|step| step.role() == Some(Role::Wetting), 0, 600, "30 s to 2 min"),
    bounds(|step| step.kind == StepKind::Dry, 600, ANY, "half an hour with a fan to a night"),
    Bounds { is_mild: true, ..bounds(is_acid_rapid_fix, 0, 15 * 60, "at most 15 min in an acid rapid fixer") },
    Bounds { is_mild: true, ..bounds(|step| step.kind == StepKind::Presoak, 0, 15 * 60, "1 to 5 min") },
];

const fn bounds(is_for: fn(&Step) -> bool, least: i64, most: i64, published: &'static str) -> Bounds {
    Bounds { is_for, least, most, published, is_mild: false }
}

fn is_moved_development(step: &Step) -> bool {
    let is_at_rest = |scheme: &Scheme| scheme.stand || matches!(scheme.pulse, Pulse::None | Pulse::At { .. });
    step.kind == StepKind::Develop && !step.agitation.as_ref().is_some_and(|scheme| is_at_rest(scheme))
}

fn is_wash_aid(step: &Step) -> bool {
    step.kind == StepKind::Clear && step.role() == Some(Role::Clearing)
}

fn is_acid_rapid_fix(step: &Step) -> bool {
    let is_rapid = |fixer: &Solution| fixer.ingredients().iter().any(|one| one.name == "ammonium-thiosulfate");
    step.kind == StepKind::Fix && step.solution().is_some_and(|fixer| fixer.is_acid() && is_rapid(fixer))
}

fn check(recipe: &Recipe) -> Vec<Diagnostic> {
    let mut found = Vec::new();
    for (at, step) in recipe.steps.iter().enumerate() {
        let Some((shortest, longest)) = times(recipe, step) else { continue };
        let bounds = BOUNDS.iter().find(|bounds| {
            let is_missed = shortest < Time::from_seconds(bounds.least) || Time::from_seconds(bounds.most) < longest;
            is_missed && (bounds.is_for)(step)
        });
        let Some(bounds) = bounds else { continue };
        let is_short = shortest < Time::from_seconds(bounds.least);
        let is_reported = step.kind == StepKind::Fix && is_short && super::short_fix::check(recipe).is_some();
        if is_reported || (step.kind == StepKind::Dry && has_alcohol(recipe, at)) {
            continue;
        }
        let time = if is_short { shortest } else { longest };
        let message = format!("the step {} takes {time}; published times are {}", step.title(), bounds.published);
        found.push(
            RULE.weighed(bounds.is_mild, step.duration.span, message)
                .help("check the number and its unit against the source"),
        );
    }
    found
}

/// The shortest and the longest time of a step in a recipe; `None` if unknown, such as a multiple of an unknown
/// clearing time.
fn times(recipe: &Recipe, step: &Step) -> Option<(Time, Time)> {
    let Duration::Clearing { times, at_least, at_most } = *step.duration else { return step.duration.bounds() };
    let film = &recipe.film.as_ref()?.value;
    let time = film.clearing_in(step.bath.as_ref()?)?.time.by(times);
    let time = at_least.map_or(time, |floor| floor.max(time));
    let time = at_most.map_or(time, |most| most.min(time));
    Some((time, time))
}

fn has_alcohol(recipe: &Recipe, until: usize) -> bool {
    let mut before = recipe.steps.iter().take(until).filter_map(Step::solution);
    before.any(|solution| solution.ingredients().iter().any(|one| one.name == "isopropyl-alcohol"))
}
