//! Compares one step with another of the same kind: its bath, its times at given temperatures, and the rest.

use super::difference::{Found, Place, SolutionFacts};
use crate::compile::time_at;
use crate::model::{Duration, Fact, Key, Recipe, Step, StepKind, Temperature, Time, Value};

/// A step as one recipe has it.
#[derive(Debug, Clone, Copy)]
pub(super) struct Side<'a, 'f> {
    pub(super) recipe: &'a Recipe,
    pub(super) step: &'a Step,
    pub(super) facts: &'f [Fact<'a>],
    /// What it is paired by.
    pub(super) key: (usize, StepKind, Option<&'a str>),
}

impl<'a, 'f> Side<'a, 'f> {
    /// The facts with these keys.
    fn of(&self, wanted: impl Fn(Key<'a>) -> bool) -> Vec<&'f Fact<'a>> {
        self.facts.iter().filter(|fact| wanted(fact.key)).collect()
    }

    fn value(&self, key: Key<'_>) -> Option<&'f Value<'a>> {
        self.facts.iter().find(|fact| fact.key == key).map(|fact| &fact.value)
    }

    /// Its work, without the step's number.
    fn work(&self, wanted: impl Fn(Key<'a>) -> bool) -> Vec<(Key<'a>, &'f Value<'a>)> {
        let own = self.facts.iter().filter(|fact| fact.is_work && wanted(fact.key));
        own.map(|fact| (fact.key, &fact.value)).collect()
    }

    fn solution(&self) -> SolutionFacts<'a, 'f> {
        let solution = self.step.solution().map(|solution| &**solution);
        SolutionFacts { solution, facts: self.of(Key::is_of_solution) }
    }

    /// Its time at each of these temperatures.
    fn times(&self, at: &[Temperature]) -> Vec<Option<Time>> {
        at.iter().map(|at| time_at(self.recipe, self.step, *at)).collect()
    }

    fn varies(&self) -> bool {
        matches!(&self.step.duration.value, Duration::Chart(_) | Duration::Plain { at: Some(_), .. })
    }
}

/// Adds what differs between two steps, with times at these temperatures.
pub(super) fn compare<'a>(old: &Side<'a, '_>, new: &Side<'a, '_>, at: &[Temperature], found: &mut Found<'a>) {
    let place = Place::of(new.step);
    let name = |side: &Side<'a, '_>| side.value(Key::Solution).cloned().unwrap_or(Value::Absent);
    let is_other = old.work(Key::is_of_solution) != new.work(Key::is_of_solution);
    if name(old) != name(new) && is_other {
        // Another solution is one difference, whatever it contains.
        found.work(place, Key::Solution, name(old), name(new));
    } else {
        found.solutions(place, &old.solution(), &new.solution());
    }
    let before = found.all.len();
    if old.work(|_| true) != new.work(|_| true) {
        times(old, new, at, found);
    }
    let is_reported = found.all.len() > before;
    written(old, new, is_reported, found);
    let timed = |key: Key<'_>| matches!(key, Key::Time | Key::HoldsAt | Key::Clearing);
    let rest = |key: Key<'_>| !key.is_of_solution() && !timed(key);
    found.facts(place, &old.of(rest), &new.of(rest));
}

/// Adds the time as it is written, where the times do not report it, and the clearing time it uses.
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
        let holds_at = |key| key == Key::HoldsAt;
        return found.facts(place, &old.of(holds_at), &new.of(holds_at));
    }
    let (was, is) = (&old.step.duration.value, &new.step.duration.value);
    let key = match (was, is) {
        (one, other) if rule(one) != rule(other) => Key::TimeRule,
        (Duration::Chart(one), Duration::Chart(other)) if is_reported && one.ends() == other.ends() => return,
        (Duration::Plain { at: one, .. }, Duration::Plain { at: other, .. })
            if is_reported && one == other =>
        {
            return;
        }
        _ => Key::TimeWritten,
    };
    if was != is {
        found.work(place, key, Value::Duration(was), Value::Duration(is));
    }
}

/// Adds the times that differ; one difference where they do not depend on the temperature.
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
