//! One step against another of the same kind: its bath, its times at the temperatures asked for, and the rest.

use super::difference::{Found, Place};
use crate::compile::time_at;
use crate::model::{Duration, Fact, Key, Recipe, Solution, Step, StepKind, Temperature, Time, Value};

/// A step as one side has it.
#[derive(Debug, Clone, Copy)]
pub(super) struct Part<'a, 'f> {
    pub(super) recipe: &'a Recipe,
    pub(super) step: &'a Step,
    pub(super) facts: &'f [Fact<'a>],
    /// What it is paired by.
    pub(super) called: (usize, StepKind, Option<&'a str>),
}

impl<'a, 'f> Part<'a, 'f> {
    fn solution(&self) -> Option<&'a Solution> {
        self.step.solution().map(|solution| &**solution)
    }

    /// The facts with these keys.
    fn of(&self, wanted: impl Fn(Key<'a>) -> bool) -> Vec<&'f Fact<'a>> {
        self.facts.iter().filter(|fact| wanted(fact.key)).collect()
    }

    fn value(&self, key: Key<'_>) -> Option<&'f Value<'a>> {
        self.facts.iter().find(|fact| fact.key == key).map(|fact| &fact.value)
    }

    /// What it does, but for the number of the step.
    fn work(&self, wanted: impl Fn(Key<'a>) -> bool) -> Vec<(Key<'a>, &'f Value<'a>)> {
        let own = self.facts.iter().filter(|fact| fact.is_work && wanted(fact.key));
        own.map(|fact| (fact.key, &fact.value)).collect()
    }
}

/// What differs between two steps, with times at these temperatures.
pub(super) fn compare<'a>(old: &Part<'a, '_>, new: &Part<'a, '_>, at: &[Temperature], found: &mut Found<'a>) {
    let place = Place::of(new.step);
    let name = |part: &Part<'a, '_>| part.value(Key::Solution).cloned().unwrap_or(Value::Absent);
    let is_other = old.work(Key::is_of_solution) != new.work(Key::is_of_solution);
    if name(old) != name(new) && is_other {
        // Of another solution only that is told.
        found.work(place, Key::Solution, name(old), name(new));
    } else {
        let facts = (old.of(Key::is_of_solution), new.of(Key::is_of_solution));
        found.solutions(place, (old.solution(), &facts.0), (new.solution(), &facts.1));
    }
    let before = found.all.len();
    if old.work(|_| true) != new.work(|_| true) {
        times(old, new, at, found);
    }
    let is_told = found.all.len() > before;
    written(old, new, is_told, found);
    let timed = |key: Key<'_>| matches!(key, Key::Time | Key::HoldsAt | Key::Clearing);
    let rest = |key: Key<'_>| !key.is_of_solution() && !timed(key);
    found.facts(place, &old.of(rest), &new.of(rest));
}

/// The time as it is written, where the times do not tell it, and the clearing time behind it.
fn written<'a>(old: &Part<'a, '_>, new: &Part<'a, '_>, is_told: bool, found: &mut Found<'a>) {
    let place = Place::of(new.step);
    if let (Some(was), Some(is), Some(bath)) =
        (old.value(Key::Clearing), new.value(Key::Clearing), new.step.bath.as_ref())
        && let (true, Some(solution)) = (was != is, new.solution())
    {
        let key = Key::ClearsIn(&solution.name, &bath.dilution);
        if !found.all.iter().any(|told| told.key == key) {
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
        (Duration::Chart(one), Duration::Chart(other)) if is_told && one.ends() == other.ends() => return,
        (Duration::Plain { at: one, .. }, Duration::Plain { at: other, .. }) if is_told && one == other => {
            return;
        }
        _ => Key::TimeWritten,
    };
    if was != is {
        found.work(place, key, Value::Duration(was), Value::Duration(is));
    }
}

/// The times at the temperatures asked for; one line where they do not depend on the temperature.
fn times<'a>(old: &Part<'a, '_>, new: &Part<'a, '_>, at: &[Temperature], found: &mut Found<'a>) {
    let all = |part: &Part<'_, '_>| -> Vec<Option<Time>> {
        at.iter().map(|at| time_at(part.recipe, part.step, *at)).collect()
    };
    let (was, is) = (all(old), all(new));
    let place = Place::of(new.step);
    let varies = |part: &Part<'_, '_>| {
        matches!(&part.step.duration.value, Duration::Chart(_) | Duration::Plain { at: Some(_), .. })
    };
    let stands = !varies(old) && !varies(new);
    if let (true, Some(was), Some(is)) = (stands, constant(&was), constant(&is)) {
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

/// The one time that there is, if any, wherever there is one.
fn constant(times: &[Option<Time>]) -> Option<Time> {
    let mut there = times.iter().flatten();
    let first = there.next()?;
    there.all(|time| time == first).then_some(*first)
}

/// By which rule a time goes; a time for one temperature is another rule than one for any.
fn rule(duration: &Duration) -> u8 {
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
