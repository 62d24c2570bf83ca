//! Compares two recipes fact by fact: first the differences in the work, then those only in what is stated.
//! The same work in another layout, unit or wording has no difference in the work.

mod difference;
mod pair;
mod step;

use std::borrow::Cow;
use std::collections::BTreeSet;
use std::sync::Arc;

use difference::Found;
pub use difference::{Difference, Place};
use pair::{Paired, pair};
use step::Side;

use crate::compile::cautions_of;
use crate::model::{Fact, Key, Recipe, Step, Temperature, Value};

/// A recipe of an old or a new file, and its differences.
#[derive(Debug, Clone)]
pub struct Outcome<'a> {
    /// The recipe in the old file, if it is there.
    pub old: Option<&'a Recipe>,
    /// The recipe in the new file, if it is there.
    pub new: Option<&'a Recipe>,
    /// The differences; none if only one file has the recipe.
    pub differences: Vec<Difference<'a>>,
}

impl Outcome<'_> {
    /// The number of differences in the work; a recipe in one file only counts as one.
    #[must_use]
    pub fn count(&self) -> usize {
        match (self.old, self.new) {
            (Some(_), Some(_)) => self.differences.iter().filter(|difference| difference.is_work).count(),
            _ => 1,
        }
    }
}

/// Compares the recipes of two files, paired by name, with times at these temperatures.
/// One recipe against one is compared even under different names.
#[must_use]
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

/// The differences in the work of two recipes, with times at these temperatures; then those only in what is stated.
/// There is a difference in the work exactly if the work is not equal.
#[must_use]
pub fn compare<'a>(old: &'a Recipe, new: &'a Recipe, at: &[Temperature]) -> Vec<Difference<'a>> {
    let (old_facts, new_facts) = (old.facts(), new.facts());
    let (of_old, of_new) = (of_step(&old_facts, 0), of_step(&new_facts, 0));
    let is_own = |key: Key<'_>| matches!(key, Key::Film | Key::Index);
    let mut found = Found::default();
    found.facts(Place::Recipe, of_old, of_new, is_own);
    let work = |facts: &[Fact<'a>]| -> Vec<Fact<'a>> {
        facts.iter().filter(|fact| fact.is_work && fact.step > 0).cloned().collect()
    };
    let is_same = work(&old_facts) == work(&new_facts);
    steps(&sides(old, &old_facts, new, is_same), &sides(new, &new_facts, old, is_same), at, &mut found);
    let film = |recipe: &'a Recipe| recipe.film.as_ref().map(|film| &film.value.name);
    if film(old) == film(new) {
        // A clearing time that a step is timed by is reported already.
        let reported: Vec<Key<'a>> = found.all.iter().map(|difference| difference.key).collect();
        found.facts(Place::Film, of_old, of_new, |key| !is_own(key) && !reported.contains(&key));
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

/// The facts of a step by its number, or of the recipe for 0.
fn of_step<'f, 'a>(facts: &'f [Fact<'a>], number: usize) -> &'f [Fact<'a>] {
    let start = facts.partition_point(|fact| fact.step < number);
    let end = facts.partition_point(|fact| fact.step <= number);
    facts.get(start..end).unwrap_or(&[])
}

/// The steps of a recipe, each with the key it is paired by: its number if both recipes do the same; else its kind,
/// and its name if the other recipe has a step of that kind and name.
fn sides<'a, 'f>(
    recipe: &'a Recipe,
    facts: &'f [Fact<'a>],
    other: &Recipe,
    is_same: bool,
) -> Vec<Side<'a, 'f>> {
    let named: BTreeSet<_> = other.steps.iter().map(|step| (step.kind, step.name.as_deref())).collect();
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
        found.all.push(Difference { is_work: false, ..Difference::work(place, Key::Caution, old, new) });
    }
}
