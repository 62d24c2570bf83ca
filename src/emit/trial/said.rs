//! What a trial found, in sentences for people who know nothing of sensitometry: first what was found, then what to do.

use super::{count, figures, interval, of_celsius, rounded, ten};
use crate::compile::Scale;
use crate::evaluate::{Evaluation, Speed, StripResult, UNDER_METER};
use crate::model::{ContrastMeasure, Temperature, Time, nearest_speed};
use crate::trial::{Answer, Basis, DISAGREE, NoFit, NoTime, Times};

/// The rise of density over 1.30 of log exposure that ISO 6 requires, and its tolerance. No source looked up.
const RISE: (f64, f64) = (0.80, 0.05);

/// Above this fraction of the highest possible contrast, no further strip is proposed, because its time would be very
/// long.
const REACHED: f64 = 0.95;

#[derive(Clone, Copy)]
pub(super) struct Question<'a> {
    pub(super) result: &'a Evaluation,
    pub(super) contrast: f64,
    pub(super) at: Temperature,
    pub(super) scale: Scale,
}

pub(super) fn sentences(times: &Times, scale: Scale) -> Vec<String> {
    let (low, high) = times.contrasts();
    let mut all = vec![format!(
        "your strips have contrasts from {} to {}; a time for any other would be a guess",
        figures(low, 2),
        figures(high, 2)
    )];
    let (short, long) = ends(times.strips().iter().map(|strip| strip.minutes));
    let (short, long) = (Time::from_minutes(short), Time::from_minutes(long));
    match &times.fit {
        Ok(fit) => {
            all.push(format!("however long you develop, the contrast stays below about {}", figures(fit.law.limit, 2)));
            all.extend(fit.law.factor.map(|factor| {
                let (one, step) = one_degree(scale);
                let (degree, by) = (figures(libm::log(factor) * 10.0 * step, 0), figures(factor, 1));
                let (cold, warm) = ends(times.strips().iter().map(|strip| strip.celsius));
                let (cold, warm) = (of_celsius(cold, scale), of_celsius(warm, scale));
                let ten = ten(scale);
                format!("from {cold} to {warm}: {one} warmer, develop {degree} % shorter ({ten}: divide the time by {by})")
            }));
            if fit.freedom == 0 {
                all.push("three strips give a curve and nothing to test it by: develop one more strip".to_owned());
            }
        }
        Err(NoFit::TooFewTimes) if times.strips().len() < 2 => {
            return vec!["one strip gives its own contrast and no time: develop a second one, shorter or longer".to_owned()];
        }
        Err(NoFit::TooFewTimes) if short == long => {
            return vec![format!("all strips were developed for {long}: develop one more, shorter or longer")];
        }
        Err(NoFit::TooFewTimes) => all.push(format!(
            "use only times from {short} to {long}: for others, develop a third strip"
        )),
        Err(NoFit::LimitNotSeen) => all.push(format!(
            "the contrast still rises at {long}: times outside of {short} to {long} are not known"
        )),
        Err(NoFit::DoesNotRise) => {
            all.push("the contrast does not rise with the time: see whether the strips were mixed up".to_owned());
        }
        Err(NoFit::TooNear) => all.push(format!(
            "the temperatures are less than {} apart, too near to show what a degree does: develop two strips \
             at another one",
            interval(Temperature::celsius_whole(3).base, scale, 1)
        )),
    }
    all
}

pub(super) fn outlier(times: &Times) -> Option<String> {
    let (strip, off) = times.outlier()?;
    let (time, side) = (Time::from_minutes(strip.minutes), if off > 0.0 { "high" } else { "low" });
    Some(format!(
        "the strip of {time} does not fit the others: its contrast is {} too {side}. Read it again, or develop it \
         again; do not use these times before",
        figures(off.abs(), 2)
    ))
}

/// The developing time in a sentence, or why there is none. With `reasons`, the interval in figures follows:
/// `(8:30 ± 0:20, 95 %)`.
pub(super) fn spoken(answer: &Result<Answer, NoTime>, question: Question<'_>, reasons: bool) -> String {
    let answer = match answer {
        Ok(answer) => answer,
        Err(why) => return no_time(*why, question),
    };
    let (time, even) = (Time::from_minutes(answer.minutes), to_five_seconds(answer.minutes));
    let (low, high) = answer.bounds();
    let (low, high) = (Time::from_minutes(low), Time::from_minutes(high));
    let mut text = if answer.is_outside {
        format!("OUTSIDE WHAT WAS TESTED: {time} is a guess; develop a strip for {even} before you trust it")
    } else if answer.is_unseen() {
        format!("{time}; between {low} and {high} nobody could tell the prints apart")
    } else {
        format!(
            "{time}, but it may be anything from {low} to {high}; a strip developed for {even} would tell"
        )
    };
    if let Basis::Neighbours(short, long) = answer.basis {
        let (short, long) = (Time::from_minutes(short), Time::from_minutes(long));
        text += &format!("; from the strips of {short} and {long} only");
    }
    if let Basis::Law { by_neighbours: Some(other) } = answer.basis
        && (other / answer.minutes - 1.0).abs() > DISAGREE
    {
        text += &format!("; the two nearest strips alone say {}", Time::from_minutes(other));
    }
    if reasons {
        text += &format!(" ({time} ± {}, 95 %)", Time::from_minutes(answer.half_width));
    }
    text
}

fn no_time(why: NoTime, Question { result, contrast, at, scale }: Question<'_>) -> String {
    let strips = result.times.iter().flat_map(Times::strips);
    let own = strips.filter(|strip| (strip.celsius - at.celsius()).abs() < 1e-6).map(|strip| strip.minutes);
    let (short, long) = ends(own);
    let limit = result.times.as_ref().and_then(|times| Some(times.fit.as_ref().ok()?.law.limit));
    match why {
        NoTime::Contrast { low, .. } if contrast < low => {
            let next = to_five_seconds(short * 0.75);
            format!("no time: even your softest strip is too hard; develop one for {next}")
        }
        NoTime::Contrast { .. } if limit.is_some_and(|limit| contrast > limit * REACHED) => {
            let limit = figures(limit.unwrap_or_default(), 2);
            format!(
                "no time: in this developer the film hardly gets there, since it ends at about {limit}; use a harder paper"
            )
        }
        NoTime::Contrast { .. } => {
            let next = to_five_seconds(long * 4.0 / 3.0);
            format!("no time: even your hardest strip is too soft; develop one for {next}")
        }
        NoTime::Temperature { low, high } if high - low < 0.01 => {
            let only = of_celsius(low, scale);
            format!("no time: you tested only {only}; develop strips at this temperature too")
        }
        NoTime::Temperature { low, high } => {
            format!(
                "no time: you tested from {} to {}; develop strips at this temperature too",
                of_celsius(low, scale),
                of_celsius(high, scale)
            )
        }
        NoTime::BetweenTemperatures => {
            format!("no time: develop two strips or more at {}", rounded(at, scale, 1))
        }
        NoTime::PastLimit(limit) => format!(
            "no time: this film in this developer ends at a contrast of {}, however long you develop",
            figures(limit, 2)
        ),
    }
}

/// A difference of one degree in words, and its size in °C.
fn one_degree(scale: Scale) -> (&'static str, f64) {
    match scale {
        Scale::Celsius => ("1 °C", 1.0),
        Scale::Fahrenheit => ("1 °F", 1.0 / 1.8),
    }
}

fn ends(minutes: impl Iterator<Item = f64>) -> (f64, f64) {
    minutes.fold((f64::INFINITY, 0.0), |(low, high): (f64, f64), own| (low.min(own), high.max(own)))
}

/// The time rounded to five seconds, because nobody can keep it more exactly by a clock.
fn to_five_seconds(minutes: f64) -> Time {
    Time::from_seconds((Time::from_minutes(minutes).ms + 2500).div_euclid(5000) * 5)
}

/// How many strips have no contrast because their curves are too short, and what to do; `None` if there are none.
pub(super) fn strips_without_contrast(result: &Evaluation) -> Option<String> {
    let short =
        result.strips.iter().filter(|strip| strip.curve.is_some() && strip.contrast.is_none()).count();
    let all = count(result.strips.len(), "strip");
    let stops = result.stops_of_all().filter(|_| matches!(result.measure, ContrastMeasure::Gradient(_)));
    let remedy = match stops {
        Some(stops) => format!("the film is fine: run this again with --stops {stops}"),
        None => "expose a longer wedge, or less light".to_owned(),
    };
    (short > 0).then(|| {
        format!(
            "{short} of {all} have no contrast, because their steps cover less than is measured; {remedy}"
        )
    })
}

pub(super) fn no_contrast(strip: &StripResult, result: &Evaluation) -> &'static str {
    match (&strip.fog, &strip.curve) {
        _ if result.frames.is_some() => "no contrast: one of its two frames has no reading",
        (None, _) => "no contrast: read the film where no light fell, and add a row that begins with fog",
        (_, None) => "no contrast: it needs readings of at least three steps with different exposures",
        _ => "no contrast: its steps cover less than is measured",
    }
}

/// The film's speed in a sentence. With `is_beside`, the exposure index is already in the section of each contrast, so
/// this sentence leaves it out.
pub(super) fn speed(speed: Speed, is_beside: bool) -> String {
    match speed {
        Speed::Standard { exact } => format!(
            "{} by the criterion of the standard ISO 6:1993 (a rise of 0.80 over 1.30); a speed by the standard also \
             needs its lamp, its developer and its waiting times",
            match nearest_speed(exact) {
                Some((speed, degrees)) => format!("{speed}/{degrees}"),
                None => figures(exact, 0),
            }
        ),
        Speed::OnlyRelative => {
            "no film speed: leave the meter as it is. The strips meet the criterion of the standard ISO 6:1993 (a rise \
             of 0.80 over 1.30), but the exposure is not known in lux seconds; for an index of your own, expose a \
             bracket in stops and give --index"
                .to_owned()
        }
        Speed::NotMet { least, most } => {
            let (side, next) = if most < RISE.0 { ("longer", "soft") } else { ("shorter", "hard") };
            let next = if least < RISE.0 && RISE.0 < most {
                String::new()
            } else {
                format!("; that is too {next} for it, and a {side} development would meet it")
            };
            let (least, most) = (figures(least, 2), figures(most, 2));
            let rise = if least == most {
                format!("yours rises by {least}")
            } else {
                format!("yours rise by {least} to {most}")
            };
            format!(
                "no film speed: leave the meter as it is. The standard ISO 6:1993 wants a density that rises by 0.80 \
                 over 1.30, and {rise}{next}"
            )
        }
        Speed::ByMeter { index, rise, stops } => {
            let own =
                if (rise - RISE.0).abs() <= RISE.1 { "" } else { ", not under the conditions of the standard ISO 6:1993" };
            let off = stops.map(|stops| format!("; good to about {}", in_stops(stops))).unwrap_or_default();
            if is_beside {
                return format!("the index is beside each contrast above{off}");
            }
            format!("{}{own}{off}", self::index(index))
        }
    }
}

pub(super) fn index(index: f64) -> String {
    let step = nearest_speed(index).map_or_else(|| figures(index, 0), |(speed, _)| speed.to_string());
    format!("set the meter to {step}: your exposure index is {}", figures(index, 0))
}

fn in_stops(stops: f64) -> &'static str {
    match stops {
        ..0.4 => "a third of a stop",
        0.4..0.6 => "half a stop",
        0.6..1.2 => "a stop",
        _ => "more than a stop: repeat the bracket",
    }
}

/// For `--why`: how the exposure index was calculated; `None` if the trial gives no exposure index.
pub(super) fn speed_reason(speed: Speed) -> Option<String> {
    let Speed::ByMeter { index, .. } = speed else { return None };
    let other = index * libm::exp2(UNDER_METER - 4.0);
    Some(format!(
        "the speed point counts as {UNDER_METER:.2} stops under the meter's reading (K = 12.5); if you count it as 4 \
         stops, your index is {}",
        figures(other, 0)
    ))
}
