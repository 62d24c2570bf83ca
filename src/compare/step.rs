//! Compares one step with another of the same kind: its bath, its times at given temperatures, and the rest.

use std::sync::Arc;

use super::difference::{Difference, Found, Place, differences};
use crate::compile::time_at;
use crate::model::{Duration, Fact, Key, Recipe, Step, StepKind, Temperature, Time, Value};

/// A step of one recipe.
#[derive(Debug, Clone, Copy)]
pub(super) struct Side<'a, 'f> {
    pub(super) recipe: &'a Recipe,
    pub(super) step: &'a Step,
    pub(super) facts: &'f [Fact<'a>],
    /// The key it is paired by.
    pub(super) key: (usize, StepKind, Option<&'a str>),
}

impl<'a, 'f> Side<'a, 'f> {
    fn value(&self, key: Key<'_>) -> Option<&'f Value<'a>> {
        self.facts.iter().find(|fact| fact.key == key).map(|fact| &fact.value)
    }

    /// Its work, without the step's number.
    fn work(&self, wanted: impl Fn(Key<'a>) -> bool) -> Vec<(Key<'a>, &'f Value<'a>)> {
        let own = self.facts.iter().filter(|fact| fact.is_work && wanted(fact.key));
        own.map(|fact| (fact.key, &fact.value)).collect()
    }

    /// Its time at each of these temperatures.
    fn times(&self, at: &[Temperature]) -> Vec<Option<Time>> {
        at.iter().map(|at| time_at(self.recipe, self.step, *at)).collect()
    }

    fn varies(&self) -> bool {
        matches!(&self.step.duration.value, Duration::Chart(_) | Duration::Plain { at: Some(_), .. })
    }
}

/// Adds the differences between two steps, with times at these temperatures.
pub(super) fn compare<'a>(old: &Side<'a, '_>, new: &Side<'a, '_>, at: &[Temperature], found: &mut Found<'a>) {
    let place = Place::of(new.step);
    let name = |side: &Side<'a, '_>| side.value(Key::Solution).cloned().unwrap_or(Value::Absent);
    let is_other = old.work(Key::is_of_solution) != new.work(Key::is_of_solution);
    if name(old) != name(new) && is_other {
        // Another solution is one difference, whatever it contains.
        found.work(place, Key::Solution, name(old), name(new));
    } else {
        solutions(old, new, found);
    }
    let before = found.all.len();
    if old.work(|_| true) != new.work(|_| true) {
        times(old, new, at, found);
    }
    let is_reported = found.all.len() > before;
    written(old, new, is_reported, found);
    let is_timed = |key: Key<'_>| matches!(key, Key::Time | Key::HoldsAt | Key::Clearing);
    found.facts(place, old.facts, new.facts, |key| !key.is_of_solution() && !is_timed(key));
}

/// Adds the differences between two solutions, with the new one's names for the bottles.
fn solutions<'a>(old: &Side<'a, '_>, new: &Side<'a, '_>, found: &mut Found<'a>) {
    let pointer = |side: &Side<'a, '_>| side.step.solution().map(Arc::as_ptr);
    let both = (pointer(old), pointer(new));
    let is_known = found.solutions.contains(&both);
    let named = new.step.solution().or(old.step.solution());
    for mut difference in differences(Place::of(new.step), old.facts, new.facts, Key::is_of_solution) {
        if let Key::Item(number, _) | Key::ItemOrder(number, _) | Key::Formula(number) | Key::Makes(number) =
            difference.key
        {
            difference.bottle = named.and_then(|solution| Some(solution.parts.get(number)?.as_str()));
        }
        let is_same =
            |other: &Difference<'_>| Difference { place: other.place, ..difference.clone() } == *other;
        if !(is_known && found.all.iter().any(is_same)) {
            found.all.push(difference);
        }
    }
    found.solutions.push(both);
}

/// Adds the time as written, unless the times report it, and the clearing time it uses.
fn written<'a>(old: &Side<'a, '_>, new: &Side<'a, '_>, is_reported: bool, found: &mut Found<'a>) {
    let place = Place::of(new.step);
    let clearing = old.value(Key::Clearing).zip(new.value(Key::Clearing)).filter(|(was, is)| was != is);
    if let (Some((was, is)), Some(bath), Some(solution)) = (clearing, &new.step.bath, new.step.solution()) {
        let key = Key::ClearsIn(&solution.name, &bath.dilution);
        if !found.all.iter().any(|other| other.key == key) {
            found.work(Place::Film, key, was.clone(), is.clone());
        }
    }
    if old.value(Key::Time) == new.value(Key::Time) {
        return found.facts(place, old.facts, new.facts, |key| key == Key::HoldsAt);
    }
    let (was, is) = (&old.step.duration.value, &new.step.duration.value);
    let is_implied = is_reported
        && match (was, is) {
            (Duration::Chart(one), Duration::Chart(other)) => one.ends() == other.ends(),
            (Duration::Plain { at: one, .. }, Duration::Plain { at: other, .. }) => one == other,
            _ => false,
        };
    if was != is && !is_implied {
        let key = if rule(was) == rule(is) { Key::TimeWritten } else { Key::TimeRule };
        found.work(place, key, Value::Duration(was), Value::Duration(is));
    }
}

/// Adds the times that differ; one difference if they do not depend on the temperature.
fn times<'a>(old: &Side<'a, '_>, new: &Side<'a, '_>, at: &[Temperature], found: &mut Found<'a>) {
    let (was, is) = (old.times(at), new.times(at));
    let place = Place::of(new.step);
    let is_fixed = !old.varies() && !new.varies();
    if let (true, Some(was), Some(is)) = (is_fixed, constant(&was), constant(&is)) {
        if was != is {
            found.work(place, Key::Time, Value::Time(was), Value::Time(is));
        }
        return;
    }
    let value = |time: &Option<Time>| time.map_or(Value::NotAtThisTemperature, Value::Time);
    for ((at, was), is) in at.iter().zip(&was).zip(&is).filter(|((_, was), is)| was != is) {
        found.work(place, Key::TimeAt(*at), value(was), value(is));
    }
}

/// The time, if all that are known are the same.
fn constant(times: &[Option<Time>]) -> Option<Time> {
    let mut known = times.iter().flatten();
    let first = known.next()?;
    known.all(|time| time == first).then_some(*first)
}

/// The rule that gives a time; a time that holds at one temperature has another rule than one for any.
fn rule(duration: &Duration) -> (std::mem::Discriminant<Duration>, bool) {
    (std::mem::discriminant(duration), matches!(duration, Duration::Plain { at: Some(_), .. }))
}
