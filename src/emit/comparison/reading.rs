//! Longer values of a comparison in the words a recipe has for them: how long a step takes, when the film
//! moves, how much of an ingredient.

use super::hand::Hand;
use crate::model::{Amount, Change, Duration, Mass, Measure, Pulse, Time, Volume, decimal};

/// How long a step takes, as written.
pub(super) fn duration(hand: Hand, written: &Duration) -> String {
    match written {
        Duration::Chart(chart) => {
            let points = chart.points().iter();
            let points: Vec<String> = points
                .map(|point| format!("{} at {}", point.time, hand.degrees(point.temperature)))
                .collect();
            points.join(", ")
        }
        Duration::Plain { time, at: Some(at) } => format!("{time} at {}", hand.degrees(*at)),
        Duration::Plain { time, at: None } => time.to_string(),
        Duration::Clearing { times, at_least: Some(floor) } => {
            format!("{times} x clearing, at least {floor}")
        }
        Duration::Clearing { times, at_least: None } => format!("{times} x clearing"),
        Duration::EachSide(time) => format!("{time} each side"),
        Duration::Changes(changes) => self::changes(changes),
        Duration::Flow { flow, time } => {
            let litres = decimal(flow.per_minute.fl, 1000 * Volume::ML, hand.places.max(3));
            format!("{litres} l/min for {time}")
        }
    }
}

/// Changes of water, equal neighbours told once: `1:00 x 5`, `5, 10, 20 inversions`.
fn changes(changes: &[Change]) -> String {
    let mut runs: Vec<(&Change, usize)> = Vec::new();
    for change in changes {
        match runs.last_mut() {
            Some((last, count)) if *last == change => *count += 1,
            Some(_) | None => runs.push((change, 1)),
        }
    }
    let told = runs.iter().map(|(change, count)| {
        let one = match change {
            Change::Inversions(inversions) => format!("{inversions} inversions"),
            Change::Soak(time) => format!("{time} of soaking"),
        };
        if *count == 1 { one } else { format!("{count} x {one}") }
    });
    told.collect::<Vec<_>>().join(", ")
}

/// When the film moves.
pub(super) fn pulse(written: &Pulse) -> String {
    match written {
        Pulse::None => "none".to_owned(),
        Pulse::Continuous => "continuous".to_owned(),
        Pulse::Rotary(speed) => format!("rotary {} rpm", speed.rpm),
        Pulse::At { times, amount: length } => {
            let times: Vec<String> = times.iter().map(Time::to_string).collect();
            format!("at {} for {}", times.join(", "), amount(*length))
        }
        Pulse::Interval { first, then } => {
            let first = first.map(|first| format!("first {}", amount(first)));
            let then = then.map(|(then, every)| format!("{} every {every}", amount(then)));
            let both = [first, then].into_iter().flatten();
            both.collect::<Vec<_>>().join(", then ")
        }
    }
}

fn amount(amount: Amount) -> String {
    match amount {
        Amount::For(time) => time.to_string(),
        Amount::Inversions(count) => format!("{count} inversions"),
    }
}

/// How much of an ingredient.
pub(super) fn measure(hand: Hand, measure: Measure) -> String {
    let mass = |mass: Mass| format!("{} g", mass.in_g(hand.places.max(3)));
    match measure {
        Measure::Mass(of) => mass(of),
        Measure::Volume(of) => hand.volume(of),
        Measure::UpTo(of) => format!("to {}", hand.volume(of)),
        Measure::MassPerLitre(of) => format!("{} in each litre", mass(of)),
        Measure::VolumePerLitre(of) => format!("{} in each litre", hand.volume(of)),
    }
}
