//! The rule `implausible-temperature`.

use super::*;

rule! {
    /// # implausible-temperature: a development, a wash or drying too warm or too cold
    ///
    /// The limits are: 13 to 27.5 °C for a black-and-white development, and no upper one if a bath has sodium sulfate
    /// or chrome alum or if the film moves all the time; 30 °C for a colour development of less than 7 min; 10 to 30 °C
    /// for a wash, and no upper one in a hot process; 50 °C for drying.
    ///
    /// **Why.** Warm baths swell gelatin until it wrinkles or floats off. Below 13 °C hydroquinone stops developing,
    /// and below 10 °C water does not wash fixer out. A cold colour developer leaves colours weak.
    ///
    /// ```fires
    /// wetside 1
    /// recipe wrong {
    ///     develop {
    ///         in        water
    ///         time      6:00 at 30 C
    ///         within    0.5 C
    ///         agitate   first 30 s, then 10 s every 1 min
    ///     }
    /// }
    /// ```
    ///
    /// ```fires
    /// wetside 1
    /// recipe hot-air {
    ///     dry {
    ///         time      2 h
    ///         at        55 C
    ///     }
    /// }
    /// ```
    ///
    /// **Instead.** Check the number and its unit: 20 °C is 68 °F. For warm nights use a stop bath with sulfate.
    ///
    /// ```quiet
    /// wetside 1
    /// recipe right {
    ///     develop {
    ///         in        water
    ///         time      6:00 at 20 C
    ///         within    0.5 C
    ///         agitate   first 30 s, then 10 s every 1 min
    ///     }
    ///     wash {
    ///         soak      1:00 x 6
    ///         at        20 C
    ///     }
    /// }
    /// ```
    ///
    /// **Source.** Development at 60 to 80 °F, with sulfate up to 85 °F and with chrome alum up to 95 °F: US Army,
    /// Laboratory Procedures, subcourse SS0509, 1988, pages 13 and 15. Hydroquinone stops at 55 °F: common practice, no
    /// source. Water below 50 °F does not wash: US Department of Defense, Nondestructive Inspection Methods, T.O.
    /// 33B-1-1, paragraph 6.7.10.1. Colour developers and drying: from memory, not looked up.
    Warning, Recipe(check)
}

/// The limits of a black-and-white development. Below the first, hydroquinone stops developing; above the second,
/// gelatin softens.
const COLDEST: Temperature = Temperature::celsius_whole(13);
const WARMEST: Temperature = Temperature { base: 275 * 900 };
/// A colour developer gives weak colours if it is colder than this temperature and works for less than this time.
const COLOUR: (Temperature, Time) = (Temperature::celsius_whole(30), Time::from_seconds(7 * 60));
/// The lowest and the highest plausible temperature of a wash.
const WASH: (Temperature, Temperature) = (Temperature::celsius_whole(10), Temperature::celsius_whole(30));
/// The highest plausible temperature of a development that a person ends at a visible sign, such as that of a lith
/// print. Common practice, no source.
const SIGN_WARMEST: Temperature = Temperature::celsius_whole(35);
const DRY: Temperature = Temperature::celsius_whole(50);

fn check(recipe: &Recipe) -> Vec<Diagnostic> {
    let has = |step: &Step, names: &[&str]| {
        step.solution().is_some_and(|it| it.ingredients().iter().any(|one| names.contains(&one.name)))
    };
    let any = |of: &dyn Fn(&Step) -> bool| recipe.steps.iter().any(of);
    let is_colour = any(&|step| {
        step.role() == Some(Role::BleachFix)
            || has(step, &["colour-developing-agent"])
            || (step.kind == StepKind::Develop && step.is_hot())
    });
    let is_hardened = any(&|step| has(step, &["sodium-sulfate", "chrome-alum"]));
    let found = recipe.steps.iter().filter_map(|step| {
        let (span, coldest, warmest) = stated(step)?;
        let (limit, is_warm, why) = match step.kind {
            StepKind::Develop if by_sign(step).is_some_and(|high| SIGN_WARMEST < high) => {
                (SIGN_WARMEST, true, "gelatin softens")
            }
            StepKind::Develop if is_colour => {
                let is_short = step.duration.bounds()?.0 < COLOUR.1;
                let is_weak = warmest < COLOUR.0 && is_short && has(step, &["colour-developing-agent"]);
                is_weak.then_some((COLOUR.0, false, "colours stay weak in less than 7 min"))?
            }
            StepKind::Develop if coldest < COLDEST => (COLDEST, false, "hydroquinone stops developing"),
            StepKind::Develop if WARMEST < warmest && !is_hardened && !is_moved(step) => {
                (WARMEST, true, "gelatin softens without sulfate or chrome alum")
            }
            StepKind::Wash if coldest < WASH.0 => (WASH.0, false, "water does not wash fixer out"),
            StepKind::Wash if WASH.1 < warmest && !is_colour => (WASH.1, true, "gelatin softens"),
            StepKind::Dry if DRY < warmest => (DRY, true, "film curls and may melt"),
            _ => return None,
        };
        let warmest = by_sign(step).unwrap_or(warmest);
        let (at, side) = if is_warm { (warmest, "above") } else { (coldest, "below") };
        let message = format!("the step {} is at {at}; {side} {limit} {why}", step.title());
        Some(RULE.found(span, message).help("check the number and its unit: 20 C is 68 F"))
    });
    found.collect()
}

/// The upper end of a step's band, if the step is a development that a person ends at a visible sign, such as that of a
/// lith print; otherwise `None`.
fn by_sign(step: &Step) -> Option<Temperature> {
    let is_it = step.kind == StepKind::Develop && matches!(step.duration.value, Duration::Sign(_));
    let Some(Band::Between(_, high)) = step.band.filter(|_| is_it).map(|band| band.value) else { return None };
    Some(high)
}

fn is_moved(step: &Step) -> bool {
    let pulse = step.agitation.as_ref().map(|agitation| &agitation.value.pulse);
    matches!(pulse, Some(Pulse::Continuous | Pulse::Rotary(_)))
}

/// The span, the coldest and the warmest temperature that a step states; `None` if it states none. If it states only a
/// band, the two ends of the band are exchanged: the band is then reported only if all of it is beyond a limit.
fn stated(step: &Step) -> Option<(Span, Temperature, Temperature)> {
    if let Some(at) = step.at {
        return Some((at.span, *at, *at));
    }
    match (&*step.duration, step.band) {
        (Duration::Plain { at: Some(at), .. }, _) => Some((step.duration.span, *at, *at)),
        (Duration::Chart(chart), _) => {
            let (coldest, warmest) = chart.ends()?;
            Some((step.duration.span, coldest, warmest))
        }
        (_, Some(Stated { value: Band::Between(low, high), span })) => Some((span, high, low)),
        _ => None,
    }
}
