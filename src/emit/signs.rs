//! The words for a step that a person ends at a sign (R18): when to look, for what sign, and when the step ends.

use super::plain::{joined, plain, prefixed};
use crate::compile::{Decision, spoken};
use crate::model::{Number, Time};

/// How many entries the list of [`ends`] has at most between its first and its last.
const LISTED: usize = 5;
/// The distances to try between the times of the sign in the list of [`ends`], in seconds.
const DISTANCES: [i64; 12] = [1, 2, 5, 10, 15, 30, 60, 120, 300, 600, 1800, 3600];

/// The lines about a step that a person ends at a sign, each with its time by the step's clock. `act` is the verb for
/// the action that ends the step, such as `drain`. This action begins `ahead` before the end of the step.
pub(super) fn lines(decision: &Decision, act: &str, ahead: Time) -> Vec<(Time, String)> {
    let sign = plain(&decision.sign);
    let Some(times) = decision.times else {
        let first = decision.looks.first().copied().unwrap_or(decision.least);
        return vec![
            (first, format!("{}, until {sign}", looking(decision))),
            (decision.most, format!("{act} now at the latest, even without the sign")),
        ];
    };
    let first = decision.looks.first().copied().unwrap_or(Time::ZERO);
    vec![
        (first, format!("{} and note the time at which {sign}", looking(decision))),
        (decision.least - ahead, format!("{act} by {times} x that time: {}", ends(decision, times, ahead))),
    ]
}

/// When a person ends a step, on one line: `look every 30 s, until the sky shows dark; at the latest at 11:00`.
pub(super) fn in_one(decision: &Decision) -> String {
    let (sign, most) = (plain(&decision.sign), decision.most);
    match decision.times {
        Some(times) => {
            format!("{times} x the time at which {sign}; {} at the least, {most} at the most", decision.least)
        }
        None => format!("{}, until {sign}; at the latest at {most}", looking(decision)),
    }
}

fn looking(decision: &Decision) -> String {
    format!("look{}", prefixed(" every ", decision.look.map(spoken)))
}

/// When to end a step that lasts a multiple of the time of the sign:
/// `at 0:50 if it was 0:10 or sooner, at 1:20 if it was 0:15`.
fn ends(decision: &Decision, times: Number, ahead: Time) -> String {
    let thousandths = times.in_base(1000).unwrap_or(1000).max(1);
    // The latest time of the sign that gives the shortest step, and the earliest that gives the longest, in seconds.
    let low = decision.least.ms / thousandths;
    let high = (decision.most.ms + thousandths - 1) / thousandths;
    let between = |distance: i64| {
        let first = (low / distance + 1) * distance;
        let step = usize::try_from(distance).unwrap_or(1);
        (first..high).step_by(step)
    };
    let distance = DISTANCES.into_iter().find(|distance| between(*distance).count() <= LISTED);
    let listed = distance.into_iter().flat_map(between);
    let end = |seconds: i64| decision.end_for(Time::from_seconds(seconds)) - ahead;
    let at = |seconds: i64, words: &str| {
        format!("at {} if it was {}{words}", end(seconds), Time::from_seconds(seconds))
    };
    let first = (low > 0).then(|| at(low, " or sooner"));
    let all = first.into_iter().chain(listed.map(|seconds| at(seconds, ""))).chain([at(high, " or later")]);
    joined(all, ", ")
}
