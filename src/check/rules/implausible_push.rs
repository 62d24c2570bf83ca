//! The rule `implausible-push`.

use super::*;

rule! {
    /// # implausible-push: a push or pull whose time goes the wrong way or much too far
    ///
    /// A derived recipe has another index than its parent, and the first development in the same bath. At the same
    /// temperature a push is shorter, or longer by more than a factor of 2.2 for each stop; or a pull is longer.
    /// `push-without-time` reports an unchanged time.
    ///
    /// **Why.** Film that was exposed less needs more development, and film that was exposed more needs less. The wrong
    /// way doubles the mistake.
    ///
    /// ```fires
    /// wetside 1
    /// solution dev {
    ///     role      developer
    /// }
    /// film f {
    ///     speed     ISO 400
    /// }
    /// recipe normal {
    ///     film      f
    ///     index     400
    ///     develop {
    ///         in        dev 1+1, one-shot
    ///         time      10:00 at 20 C
    ///         within    0.5 C
    ///         agitate   first 30 s, then 10 s every 1 min
    ///     }
    /// }
    /// recipe pushed from normal {
    ///     index     800
    ///     develop {
    ///         time      7:30 at 20 C
    ///     }
    /// }
    /// ```
    ///
    /// **Instead.** Check both times against the source.
    ///
    /// ```quiet
    /// wetside 1
    /// solution dev {
    ///     role      developer
    /// }
    /// film f {
    ///     speed     ISO 400
    /// }
    /// recipe normal {
    ///     film      f
    ///     index     400
    ///     develop {
    ///         in        dev 1+1, one-shot
    ///         time      10:00 at 20 C
    ///         within    0.5 C
    ///         agitate   first 30 s, then 10 s every 1 min
    ///     }
    /// }
    /// recipe pushed from normal {
    ///     index     800
    ///     develop {
    ///         time      13:30 at 20 C
    ///     }
    /// }
    /// ```
    ///
    /// **Source.** One stop takes 35 to 50 % more time, two stops 75 to 100 %: common practice, no source.
    Warning, Derived(check)
}

/// The greatest plausible factor by which a push of one stop lengthens the time.
const A_STOP: f64 = 2.2;

fn check(recipe: &Recipe, parent: &Recipe) -> Option<Diagnostic> {
    let index = recipe.index?;
    let speed = || Some(parent.film.as_ref()?.value.speed?.value);
    let of_parent = parent.index.map(|index| index.value).or_else(speed)?;
    let develops = |recipe: &Recipe| recipe.steps.iter().position(|step| step.kind == StepKind::Develop);
    let step = recipe.steps.get(develops(recipe)?)?;
    let before = parent.steps.get(develops(parent)?)?;
    let bath = |step: &Step| step.bath.as_ref().map(|bath| bath.dilution.reduced());
    let solution = |step: &Step| step.solution().map(|solution| solution.span);
    if (bath(step), solution(step)) != (bath(before), solution(before)) {
        return None;
    }
    let stops = libm::log2(f64::from(index.value) / f64::from(of_parent.max(1)));
    let factor = libm::pow(A_STOP, stops);
    let way = points(step)?.into_iter().find_map(|(at, time)| {
        let (longest, shortest) = around(before, at)?;
        match index.value.cmp(&of_parent) {
            Ordering::Greater if time < shortest => Some("shorter than"),
            Ordering::Greater if time.seconds() > longest.seconds() * factor => Some("more than 2.2 times a stop longer than"),
            Ordering::Less if longest < time => Some("longer than"),
            _ => None,
        }
    })?;
    let kind = if of_parent < index.value { "push" } else { "pull" };
    let message = format!("the {kind} from {of_parent} to {} is {way} its base", index.value);
    Some(
        RULE.found(step.duration.span, message)
            .other(before.duration.span, "the time of the base")
            .help("check both times against the source, and the index"),
    )
}

/// The temperatures and times of a step: of its plain time, or of each point of its chart. `None` for other durations.
/// A temperature is `None` if the time holds in the whole band.
fn points(step: &Step) -> Option<Vec<(Option<Temperature>, Time)>> {
    match &*step.duration {
        Duration::Plain { time, at } => Some(vec![(*at, *time)]),
        Duration::Chart(chart) => {
            Some(chart.points().iter().map(|point| (Some(point.temperature), point.time)).collect())
        }
        _ => None,
    }
}

/// The longest and the shortest possible time of a step at `at`: the times of the nearest colder and warmer points.
/// Both are the same if a point is exactly at `at`. `None` if there is no point on one side.
fn around(step: &Step, at: Option<Temperature>) -> Option<(Time, Time)> {
    let points = points(step)?;
    let colder = points.iter().rev().find(|(own, _)| *own <= at && own.is_some() == at.is_some())?;
    let warmer = points.iter().find(|(own, _)| at <= *own && own.is_some() == at.is_some())?;
    Some((colder.1, warmer.1))
}
