//! How long a step takes: at each of the temperatures asked for, by the rules of the card, and as it is
//! written where that is not told by the times.

use super::difference::{Aspect, BARE, Found, Place, Value};
use super::sides::Two;
use crate::compile::time_at;
use crate::model::{Chart, Duration, Point, Quickening, Recipe, Step, Time};

/// What differs in the times of two steps.
pub(super) fn compare(two: Two<'_>, (old, new): (&Step, &Step), found: &mut Found) {
    let (written, rewritten) = (bare(&old.duration.value), bare(&new.duration.value));
    let before = found.all.len();
    // Nothing that a time comes from differs below: then no time does.
    if grounds(two.old, old) != grounds(two.new, new) {
        times(two, (old, new), found);
    }
    if written == rewritten {
        return;
    }
    let is_told = found.all.len() > before;
    let aspect = match (&written, &rewritten) {
        (one, other) if kind(one) != kind(other) => Aspect::TimeRule,
        (Duration::Chart(one), Duration::Chart(other)) if is_told && one.ends() == other.ends() => return,
        (Duration::Plain { at: one, .. }, Duration::Plain { at: other, .. }) if is_told && one == other => {
            return;
        }
        _ => Aspect::TimeWritten,
    };
    found.unless_equal(&Place::of(new), aspect, Value::Duration(written), Value::Duration(rewritten));
}

/// All that a time is made of.
fn grounds(recipe: &Recipe, step: &Step) -> impl PartialEq {
    let rate = step.bath.as_ref().and_then(|bath| bath.solution.as_ref()?.rate);
    let film = recipe.film.as_ref();
    let rows = film.iter().flat_map(|film| film.value.clears_in_order());
    let clears: Vec<_> =
        rows.map(|row| (row.time, row.solution.name.clone(), row.dilution.clone(), row.at)).collect();
    let bath = step.bath.as_ref();
    (
        bare(&step.duration.value),
        step.band.map(|band| band.value),
        step.at.map(|at| at.value),
        rate.map(|rate| quickening(rate.value)),
        bath.and_then(|bath| bath.solution.as_ref()).map(|solution| solution.name.clone()),
        bath.map(|bath| bath.dilution.clone()),
        clears,
    )
}

/// A coefficient as the fingerprint has it: its factor in millionths, its interval in 1/9000 °C.
pub(super) fn quickening(rate: Quickening) -> (i64, i64) {
    (rate.factor.in_base(1_000_000).unwrap_or(i64::MAX), rate.interval.base)
}

/// The times at the temperatures asked for; one line where they do not hang on the temperature.
fn times(two: Two<'_>, (old, new): (&Step, &Step), found: &mut Found) {
    let at =
        |recipe, step| -> Vec<Option<Time>> { two.at.iter().map(|at| time_at(recipe, step, *at)).collect() };
    let (was, is) = (at(two.old, old), at(two.new, new));
    let place = Place::of(new);
    let stands = !hangs(&old.duration.value) && !hangs(&new.duration.value);
    if let (true, Some(was), Some(is)) = (stands, constant(&was), constant(&is)) {
        found.unless_equal(&place, Aspect::Time, Value::Time(was), Value::Time(is));
        return;
    }
    let value = |time: &Option<Time>| time.map_or(Value::NotAtThisTemperature, Value::Time);
    for ((at, was), is) in two.at.iter().zip(&was).zip(&is) {
        found.unless_equal(&place, Aspect::TimeAt(*at), value(was), value(is));
    }
}

/// Whether a time goes by the temperature, or holds at one alone.
fn hangs(duration: &Duration) -> bool {
    match duration {
        Duration::Chart(_) | Duration::Plain { at: Some(_), .. } => true,
        Duration::Plain { at: None, .. }
        | Duration::Clearing { .. }
        | Duration::EachSide(_)
        | Duration::Changes(_)
        | Duration::Flow { .. } => false,
    }
}

/// The one time that there is, if any, wherever there is one.
fn constant(times: &[Option<Time>]) -> Option<Time> {
    let mut there = times.iter().flatten();
    let first = there.next()?;
    there.all(|time| time == first).then_some(*first)
}

/// A duration without its places.
fn bare(duration: &Duration) -> Duration {
    match duration {
        Duration::Chart(chart) => {
            let points = chart.points().iter().map(|point| {
                let Point { temperature, time, span: _ } = *point;
                Point { temperature, time, span: BARE }
            });
            Duration::Chart(Chart::new(points.collect()))
        }
        Duration::Plain { .. }
        | Duration::Clearing { .. }
        | Duration::EachSide(_)
        | Duration::Changes(_)
        | Duration::Flow { .. } => duration.clone(),
    }
}

/// By which rule a time goes; a time that holds at one temperature is another rule than one that stands.
fn kind(duration: &Duration) -> u8 {
    match duration {
        Duration::Chart(_) => 0,
        Duration::Plain { at: Some(_), .. } => 1,
        Duration::Plain { at: None, .. } => 2,
        Duration::Clearing { .. } => 3,
        Duration::EachSide(_) => 4,
        Duration::Changes(_) => 5,
        Duration::Flow { .. } => 6,
    }
}
