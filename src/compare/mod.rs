//! Compares two recipes fact by fact. Each difference is either in the work or only in what is stated. Another layout,
//! other units or other wording make no difference in the work.

mod difference;
mod sessions;

use std::borrow::Cow;
use std::sync::Arc;

pub use difference::{Difference, Place};
use difference::{Found, Paired, differences, pair};
pub use sessions::sessions;

use crate::compile::{cautions_of, time_at};
use crate::model::{Duration, Fact, Key, Recipe, Step, StepKind, Temperature, Time, Value};
use crate::source::Set;

/// Two recipes with the same name in an old and a new file, and their differences.
#[derive(Debug, Clone)]
pub struct Outcome<'a> {
    /// The recipe in the old file, if that file has it.
    pub old: Option<&'a Recipe>,
    /// The recipe in the new file, if that file has it.
    pub new: Option<&'a Recipe>,
    /// The differences. Empty if only one file has the recipe.
    pub differences: Vec<Difference<'a>>,
}

impl Outcome<'_> {
    /// The number of differences in the work. A recipe that only one file has counts as one difference.
    pub fn count(&self) -> usize {
        match (self.old, self.new) {
            (Some(_), Some(_)) => self.differences.iter().filter(|difference| difference.is_work).count(),
            _ => 1,
        }
    }
}

/// Compares the recipes of two files, paired by name. The times of steps are compared at the temperatures `at`. If each
/// file has only one recipe, these are compared even if their names differ.
pub fn compare_all<'a>(
    old: &'a [Arc<Recipe>],
    new: &'a [Arc<Recipe>],
    at: &[Temperature],
) -> Vec<Outcome<'a>> {
    let outcome = |old: Option<&'a Recipe>, new: Option<&'a Recipe>| {
        let differences = old.zip(new).map(|(old, new)| compare(old, new, at));
        Outcome { old, new, differences: differences.unwrap_or_default() }
    };
    if let ([old], [new]) = (old, new) {
        return vec![outcome(Some(old), Some(new))];
    }
    let pairs = pair(old, new, |recipe| recipe.name.as_str()).into_iter();
    pairs
        .map(|paired| match paired {
            Paired::Both { old, new, .. } => outcome(Some(old), Some(new)),
            Paired::Gone(old) => outcome(Some(old), None),
            Paired::Added(new, _) => outcome(None, Some(new)),
        })
        .collect()
}

/// The differences between two recipes: in the recipes themselves, in their steps, in the film and in the cautions. The
/// times of steps are compared at the temperatures `at`.
pub fn compare<'a>(old: &'a Recipe, new: &'a Recipe, at: &[Temperature]) -> Vec<Difference<'a>> {
    let (old_facts, new_facts) = (old.facts(), new.facts());
    let (of_old, of_new) = (of_step(&old_facts, 0), of_step(&new_facts, 0));
    let is_own = |key: Key<'_>| {
        key.is_own() || matches!(key, Key::Film | Key::Index | Key::Repeat | Key::Lighting | Key::LightSafe)
    };
    let mut found = Found::default();
    found.all.extend(differences(Place::Recipe, of_old, of_new, is_own));
    let work = |facts: &[Fact<'a>]| -> Vec<Fact<'a>> {
        facts.iter().filter(|fact| fact.is_work && fact.step > 0).cloned().collect()
    };
    let is_same = work(&old_facts) == work(&new_facts);
    steps(&sides(old, &old_facts, new, is_same), &sides(new, &new_facts, old, is_same), at, &mut found);
    let film = |recipe: &'a Recipe| recipe.film.as_ref().map(|film| &film.value.name);
    if film(old) == film(new) {
        // If a step's time depends on the film's clearing time, a change of the clearing time is already in `found`.
        let reported: Vec<Key<'a>> = found.all.iter().map(|difference| difference.key).collect();
        found
            .all
            .extend(differences(Place::Film, of_old, of_new, |key| !is_own(key) && !reported.contains(&key)));
    }
    cautions(Place::Recipe, &cautions_of(old), &cautions_of(new), &mut found);
    found.all
}

fn steps<'a>(old: &[Side<'a, '_>], new: &[Side<'a, '_>], at: &[Temperature], found: &mut Found<'a>) {
    let title = |side: Option<&Side<'_, '_>>| Value::After(side.map(|side| side.step.title()));
    for paired in pair(old, new, |side| side.key) {
        match paired {
            Paired::Both { old, new, moved } => {
                let place = Place::of(new.step);
                if let Some((before, now)) = moved {
                    found.work(place, Key::Order, title(before), title(now));
                }
                step(old, new, at, found);
                cautions(place, &old.step.cautions, &new.step.cautions, found);
            }
            Paired::Gone(side) => {
                found.work(Place::of(side.step), Key::Step, Value::Present, Value::Absent);
            }
            Paired::Added(side, follows) => {
                found.work(Place::of(side.step), Key::Step, Value::Absent, title(follows));
            }
        }
    }
}

/// The facts of the step with this number, from 1; those of the recipe itself if the number is 0.
fn of_step<'f, 'a>(facts: &'f [Fact<'a>], number: usize) -> &'f [Fact<'a>] {
    let start = facts.partition_point(|fact| fact.step < number);
    let end = facts.partition_point(|fact| fact.step <= number);
    facts.get(start..end).unwrap_or(&[])
}

/// The steps of a recipe, each with the key that pairs it with a step of the other recipe. The key is the step's number
/// if both recipes do the same work. Otherwise it is the step's kind, with its name if the other recipe has a step of
/// this kind and name.
fn sides<'a, 'f>(
    recipe: &'a Recipe,
    facts: &'f [Fact<'a>],
    other: &Recipe,
    is_same: bool,
) -> Vec<Side<'a, 'f>> {
    let named: Set<_> = other.steps.iter().map(|step| (step.kind, step.name.as_deref())).collect();
    let side = |(number, step): (usize, &'a Step)| {
        let name = step.name.as_deref();
        let key = match named.contains(&(step.kind, name)) {
            _ if is_same => (number, step.kind, None),
            true => (1, step.kind, name),
            false => (0, step.kind, None),
        };
        Side { recipe, step, facts: of_step(facts, number), key }
    };
    (1..).zip(&recipe.steps).map(side).collect()
}

fn cautions<'a>(place: Place<'a>, old: &[String], new: &[String], found: &mut Found<'a>) {
    let only = |own: &[String], other: &[String]| -> Vec<Value<'a>> {
        let own = own.iter().filter(|text| !other.contains(text));
        own.map(|text| Value::Words(Cow::Owned(text.clone()))).collect()
    };
    let gone = only(old, new).into_iter().map(|text| (text, Value::Absent));
    let added = only(new, old).into_iter().map(|text| (Value::Absent, text));
    for (old, new) in gone.chain(added) {
        let key = Key::Caution;
        found.all.push(Difference { place, key, bottle: None, old, new, is_work: false });
    }
}

#[derive(Clone, Copy)]
struct Side<'a, 'f> {
    recipe: &'a Recipe,
    step: &'a Step,
    facts: &'f [Fact<'a>],
    key: (usize, StepKind, Option<&'a str>),
}

impl<'a, 'f> Side<'a, 'f> {
    fn value(&self, key: Key<'_>) -> Option<&'f Value<'a>> {
        self.facts.iter().find(|fact| fact.key == key).map(|fact| &fact.value)
    }

    fn work(&self, wanted: impl Fn(Key<'a>) -> bool) -> Vec<(Key<'a>, &'f Value<'a>)> {
        let own = self.facts.iter().filter(|fact| fact.is_work && wanted(fact.key));
        own.map(|fact| (fact.key, &fact.value)).collect()
    }

    fn times(&self, at: &[Temperature]) -> Vec<Option<Time>> {
        at.iter().map(|at| time_at(self.recipe, self.step, *at)).collect()
    }

    fn varies(&self) -> bool {
        matches!(&self.step.duration.value, Duration::Chart(_) | Duration::Plain { at: Some(_), .. })
    }
}

fn step<'a>(old: &Side<'a, '_>, new: &Side<'a, '_>, at: &[Temperature], found: &mut Found<'a>) {
    let place = Place::of(new.step);
    let name = |side: &Side<'a, '_>| side.value(Key::Solution).cloned().unwrap_or(Value::Absent);
    let is_other = old.work(Key::is_of_solution) != new.work(Key::is_of_solution);
    if name(old) != name(new) && is_other {
        // A step with another solution is one difference, whatever the two solutions contain.
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
    found.all.extend(differences(place, old.facts, new.facts, |key| !key.is_of_solution() && !is_timed(key)));
}

/// Adds the differences between the solutions of two steps. The names of bottles are those of the new solution.
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

/// Adds the difference between the times as the recipes state them, unless `times` has added differences that imply it.
/// Also adds the difference between the clearing times of which these times are multiples.
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
        return found.all.extend(differences(place, old.facts, new.facts, |key| key == Key::HoldsAt));
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

/// Adds a difference for each temperature at which the times differ; only one if they do not depend on the temperature.
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

/// The common value of all known times; `None` if they differ or none is known.
fn constant(times: &[Option<Time>]) -> Option<Time> {
    let mut known = times.iter().flatten();
    let first = known.next()?;
    known.all(|time| time == first).then_some(*first)
}

fn rule(duration: &Duration) -> (std::mem::Discriminant<Duration>, bool) {
    (std::mem::discriminant(duration), matches!(duration, Duration::Plain { at: Some(_), .. }))
}
