//! Compares two recipes fact by fact: first what differs in the work, then in what is only stated.
//! The same work in another layout, unit or wording has no difference in the work.

mod difference;
mod step;

use std::borrow::Cow;
use std::collections::BTreeSet;
use std::sync::Arc;

pub use difference::{Difference, Place};
use difference::{Found, Paired, pair};
use step::Side;

use crate::compile::cautions_of;
use crate::model::{Fact, Key, Recipe, Temperature, Value};

/// What became of a recipe between an old file and a new one.
#[derive(Debug, Clone)]
pub enum Outcome<'a> {
    /// It is in both.
    Both {
        /// As the old file has it.
        old: &'a Recipe,
        /// As the new file has it.
        new: &'a Recipe,
        /// What differs; empty where nothing does.
        differences: Vec<Difference<'a>>,
    },
    /// It is in the old file only.
    Gone(&'a Recipe),
    /// It is in the new file only.
    Added(&'a Recipe),
}

impl Outcome<'_> {
    /// The number of differences in the work; a recipe in one file only counts as one.
    #[must_use]
    pub fn count(&self) -> usize {
        match self {
            Outcome::Both { differences, .. } => {
                differences.iter().filter(|difference| difference.is_work).count()
            }
            Outcome::Gone(_) | Outcome::Added(_) => 1,
        }
    }
}

/// Compares the recipes of two files, paired by name, with times at these temperatures.
/// One recipe against one is compared whatever their names.
#[must_use]
pub fn compare_all<'a>(
    old: &'a [Arc<Recipe>],
    new: &'a [Arc<Recipe>],
    at: &[Temperature],
) -> Vec<Outcome<'a>> {
    let both =
        |old: &'a Recipe, new: &'a Recipe| Outcome::Both { old, new, differences: compare(old, new, at) };
    if let ([old], [new]) = (old, new) {
        return vec![both(old, new)];
    }
    let pairs = pair(old, new, |recipe| recipe.name.as_str()).into_iter();
    pairs
        .map(|paired| match paired {
            Paired::Both { old, new, .. } => both(old, new),
            Paired::Gone(recipe) => Outcome::Gone(recipe),
            Paired::Added(recipe, _) => Outcome::Added(recipe),
        })
        .collect()
}

/// What differs in the work of two recipes, with times at these temperatures; then in what is only stated.
/// There is a difference in the work exactly where the work is not equal.
#[must_use]
pub fn compare<'a>(old: &'a Recipe, new: &'a Recipe, at: &[Temperature]) -> Vec<Difference<'a>> {
    let (old_facts, new_facts) = (old.facts(), new.facts());
    let mut found = Found::default();
    let of_recipe = |found: &mut Found<'a>, place, wanted: &dyn Fn(Key<'a>) -> bool| {
        let of = |fact: &&Fact<'a>| fact.step == 0 && wanted(fact.key);
        let (old, new): (Vec<_>, Vec<_>) =
            (old_facts.iter().filter(of).collect(), new_facts.iter().filter(of).collect());
        found.facts(place, &old, &new);
    };
    let is_own = |key: Key<'_>| matches!(key, Key::Film | Key::Index);
    of_recipe(&mut found, Place::Recipe, &is_own);
    let work = |facts: &[Fact<'a>]| -> Vec<Fact<'a>> {
        facts.iter().filter(|fact| fact.is_work && fact.step > 0).cloned().collect()
    };
    let is_same = work(&old_facts) == work(&new_facts);
    let sides = (sides(old, &old_facts, new, is_same), sides(new, &new_facts, old, is_same));
    steps(&sides.0, &sides.1, at, &mut found);
    let film = |recipe: &'a Recipe| recipe.film.as_ref().map(|film| &film.value.name);
    if film(old) == film(new) {
        // A clearing time that a step is timed by is reported already.
        let reported: Vec<Key<'a>> = found.all.iter().map(|difference| difference.key).collect();
        of_recipe(&mut found, Place::Film, &|key| !is_own(key) && !reported.contains(&key));
    }
    cautions(Place::Recipe, &cautions_of(old), &cautions_of(new), &mut found);
    found.all
}

/// Compares the steps, in the order of the new recipe; then come those that are gone.
fn steps<'a>(old: &[Side<'a, '_>], new: &[Side<'a, '_>], at: &[Temperature], found: &mut Found<'a>) {
    let title = |side: Option<&Side<'_, '_>>| Value::After(side.map(|side| side.step.title()));
    for paired in pair(old, new, |side| side.key) {
        match paired {
            Paired::Both { old, new, moved } => {
                let place = Place::of(new.step);
                if let Some((before, now)) = moved {
                    found.work(place, Key::Order, title(before), title(now));
                }
                step::compare(old, new, at, found);
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

/// The steps of a recipe, each with the key it is paired by: its number if both recipes do the same; else its kind,
/// and its name where the other recipe has a step of that kind and name.
fn sides<'a, 'f>(
    recipe: &'a Recipe,
    facts: &'f [Fact<'a>],
    other: &Recipe,
    is_same: bool,
) -> Vec<Side<'a, 'f>> {
    let named: BTreeSet<_> = other.steps.iter().map(|step| (step.kind, step.name.as_deref())).collect();
    let of_step = |(number, step): (usize, &'a crate::model::Step)| {
        let start = facts.partition_point(|fact| fact.step < number);
        let end = facts.partition_point(|fact| fact.step <= number);
        let name = step.name.as_deref();
        let key = match named.contains(&(step.kind, name)) {
            _ if is_same => (number, step.kind, None),
            true => (1, step.kind, name),
            false => (0, step.kind, None),
        };
        Side { recipe, step, facts: facts.get(start..end).unwrap_or(&[]), key }
    };
    (1..).zip(&recipe.steps).map(of_step).collect()
}

fn cautions<'a>(place: Place<'a>, old: &[String], new: &[String], found: &mut Found<'a>) {
    let words = |text: &String| Value::Words(Cow::Owned(text.clone()));
    let mut add = |old, new| {
        found.all.push(Difference { place, key: Key::Caution, bottle: None, old, new, is_work: false });
    };
    for text in old.iter().filter(|text| !new.contains(text)) {
        add(words(text), Value::Absent);
    }
    for text in new.iter().filter(|text| !old.contains(text)) {
        add(Value::Absent, words(text));
    }
}
