//! Two recipes, and the recipes of two files.

use std::borrow::Cow;
use std::collections::BTreeSet;
use std::sync::Arc;

use super::difference::{Difference, Found, Place};
use super::pairing::{Paired, pair};
use super::step::{self, Part};
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
    /// How many differences there are in the work. A recipe more or less is one.
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

/// Pairs the recipes of two files by their names and compares each pair, with times at these
/// temperatures. One against one are compared whatever they are called.
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

/// What differs in the work of two recipes, with times at these temperatures; then what differs in what is said of it.
/// There is a difference in the work exactly where the work is not equal.
#[must_use]
pub fn compare<'a>(old: &'a Recipe, new: &'a Recipe, at: &[Temperature]) -> Vec<Difference<'a>> {
    let (was, is) = (old.facts(), new.facts());
    let mut found = Found::default();
    let of_recipe = |found: &mut Found<'a>, place, wanted: &dyn Fn(Key<'a>) -> bool| {
        let is_wanted = |fact: &&Fact<'a>| fact.step == 0 && wanted(fact.key);
        let (was, is): (Vec<_>, Vec<_>) =
            (was.iter().filter(is_wanted).collect(), is.iter().filter(is_wanted).collect());
        found.facts(place, &was, &is);
    };
    of_recipe(&mut found, Place::Recipe, &|key| matches!(key, Key::Film | Key::Index));
    steps((old, &was), (new, &is), at, &mut found);
    let name = |recipe: &'a Recipe| recipe.film.as_ref().map(|film| &film.value.name);
    if name(old) == name(new) {
        // A clearing time that a step goes by is told by then.
        let told: Vec<Key<'a>> = found.all.iter().map(|difference| difference.key).collect();
        of_recipe(&mut found, Place::Film, &|key| {
            !matches!(key, Key::Film | Key::Index) && !told.contains(&key)
        });
    }
    cautions(Place::Recipe, &cautions_of(old), &cautions_of(new), &mut found);
    found.all
}

/// The steps, in the order of the new recipe; then those that are gone.
fn steps<'a>(
    (old, was): (&'a Recipe, &[Fact<'a>]),
    (new, is): (&'a Recipe, &[Fact<'a>]),
    at: &[Temperature],
    found: &mut Found<'a>,
) {
    let work =
        |facts: &[Fact<'a>]| facts.iter().filter(|fact| fact.is_work && fact.step > 0).cloned().collect();
    let (one, other): (Vec<Fact<'_>>, Vec<Fact<'_>>) = (work(was), work(is));
    let is_same = one == other;
    let (was, is) = (parts(old, was, new, is_same), parts(new, is, old, is_same));
    let title = |part: Option<&Part<'_, '_>>| Value::After(part.map(|part| part.step.title()));
    for paired in pair(&was, &is, |part| part.called) {
        match paired {
            Paired::Both { old, new, moved } => {
                let place = Place::of(new.step);
                if let Some((before, now)) = moved {
                    found.work(place, Key::Order, title(before), title(now));
                }
                step::compare(old, new, at, found);
                cautions(place, &old.step.cautions, &new.step.cautions, found);
            }
            Paired::Gone(part) => {
                found.work(Place::of(part.step), Key::Step, Value::Present, Value::Absent);
            }
            Paired::Added(part, follows) => {
                found.work(Place::of(part.step), Key::Step, Value::Absent, title(follows));
            }
        }
    }
}

/// The steps of a recipe with what each is paired by: its kind and name; its kind alone where the other recipe has no
/// step of that name; its place where both do the same.
fn parts<'a, 'f>(
    recipe: &'a Recipe,
    facts: &'f [Fact<'a>],
    other: &Recipe,
    is_same: bool,
) -> Vec<Part<'a, 'f>> {
    let named: BTreeSet<_> = other.steps.iter().map(|step| (step.kind, step.name.as_deref())).collect();
    let mut rest = facts;
    let mut all = Vec::new();
    for (number, step) in (1..).zip(&recipe.steps) {
        let start = rest.iter().take_while(|fact| fact.step < number).count();
        let count = rest.iter().skip(start).take_while(|fact| fact.step == number).count();
        let own = rest.get(start..start + count).unwrap_or(&[]);
        rest = rest.get(start + count..).unwrap_or(&[]);
        let name = step.name.as_deref();
        let called = match named.contains(&(step.kind, name)) {
            _ if is_same => (number, step.kind, None),
            true => (1, step.kind, name),
            false => (0, step.kind, None),
        };
        all.push(Part { recipe, step, facts: own, called });
    }
    all
}

fn cautions<'a>(place: Place<'a>, old: &[String], new: &[String], found: &mut Found<'a>) {
    let words = |text: &String| Value::Words(Cow::Owned(text.clone()));
    for text in old.iter().filter(|text| !new.contains(text)) {
        found.said(place, Key::Caution, words(text), Value::Absent);
    }
    for text in new.iter().filter(|text| !old.contains(text)) {
        found.said(place, Key::Caution, Value::Absent, words(text));
    }
}
