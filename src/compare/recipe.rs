//! Two recipes, and the recipes of two files.

use std::sync::Arc;

use super::difference::{Aspect, Difference, Found, Place, Value};
use super::pairing::{Paired, pair};
use super::sides::Two;
use super::{bath, film, step};
use crate::compile::cautions_of;
use crate::model::{Recipe, Step, Temperature};

/// What became of a recipe between an old file and a new one.
#[derive(Debug, Clone)]
pub enum Outcome {
    /// It is in both.
    Both {
        /// As the old file has it.
        old: Arc<Recipe>,
        /// As the new file has it.
        new: Arc<Recipe>,
        /// What differs; empty where nothing does.
        differences: Vec<Difference>,
    },
    /// It is in the old file only.
    Gone(Arc<Recipe>),
    /// It is in the new file only.
    Added(Arc<Recipe>),
}

impl Outcome {
    /// How many differences there are in the work. A recipe more or less is one.
    #[must_use]
    pub fn count(&self) -> usize {
        match self {
            Outcome::Both { differences, .. } => {
                differences.iter().filter(|difference| difference.is_of_the_work()).count()
            }
            Outcome::Gone(_) | Outcome::Added(_) => 1,
        }
    }
}

/// Pairs the recipes of two files by their names and compares each pair, with times at these
/// temperatures. One against one are compared whatever they are called.
#[must_use]
pub fn compare_all(old: &[Arc<Recipe>], new: &[Arc<Recipe>], at: &[Temperature]) -> Vec<Outcome> {
    let both = |old: &Arc<Recipe>, new: &Arc<Recipe>| {
        let differences = compare(old, new, at);
        Outcome::Both { old: Arc::clone(old), new: Arc::clone(new), differences }
    };
    if let ([old], [new]) = (old, new) {
        return vec![both(old, new)];
    }
    let pairs = pair(old, new, |recipe| recipe.name.as_str()).into_iter();
    pairs
        .map(|paired| match paired {
            Paired::Both { old, new, .. } => both(old, new),
            Paired::Gone(recipe) => Outcome::Gone(Arc::clone(recipe)),
            Paired::Added(recipe, _) => Outcome::Added(Arc::clone(recipe)),
        })
        .collect()
}

/// What differs in the work of two recipes, with times at these temperatures; then what differs in
/// what is said of it. There is a difference in the work exactly where the fingerprints differ.
#[must_use]
pub fn compare(old: &Recipe, new: &Recipe, at: &[Temperature]) -> Vec<Difference> {
    let mut found = Found::default();
    // Names, titles, notes, sources and places are not of the work; cautions are told at the end.
    let Recipe {
        name: _,
        title: _,
        file: _,
        span: _,
        extent: _,
        parent: _,
        film: old_film,
        index,
        steps: _,
        sources: _,
        notes: _,
        cautions: _,
    } = old;
    let index_of = |index| Value::of(index, Value::Count);
    let new_index = new.index.map(|index| index.value);
    let index = index.map(|index| index.value);
    let films = (old_film.as_ref().map(|film| &*film.value), new.film.as_ref().map(|film| &*film.value));
    film::compare(films, &mut found);
    found.unless_equal(&Place::Recipe, Aspect::Index, index_of(index), index_of(new_index));
    let two = Two { old, new, at };
    steps(two, &mut found);
    said(old, new, &mut found);
    found.all
}

/// The steps, in the order of the new recipe; then those that are gone.
fn steps(two: Two<'_>, found: &mut Found) {
    let mut solutions = bath::Told::default();
    let title = |step: Option<&Step>| Value::After(step.map(Step::title));
    for paired in pair(&two.old.steps, &two.new.steps, |step| (step.kind, step.name.as_deref())) {
        match paired {
            Paired::Both { old, new, moved } => {
                if let Some((before, now)) = moved {
                    found.tell(&Place::of(new), Aspect::Order, title(before), title(now));
                }
                step::compare(two, (old, new), &mut solutions, found);
            }
            Paired::Gone(step) => {
                found.unless_equal(&Place::of(step), Aspect::Presence, Value::Present, Value::Absent);
            }
            Paired::Added(step, follows) => {
                found.unless_equal(&Place::of(step), Aspect::Presence, Value::Absent, title(follows));
            }
        }
    }
}

/// What is said and not done: the cautions of the card, those of steps, and words about a light.
fn said(old: &Recipe, new: &Recipe, found: &mut Found) {
    cautions(&Place::Recipe, &cautions_of(old), &cautions_of(new), found);
    for paired in pair(&old.steps, &new.steps, |step| (step.kind, step.name.as_deref())) {
        if let Paired::Both { old, new, .. } = paired {
            cautions(&Place::of(new), &old.cautions, &new.cautions, found);
            let light =
                |step: &Step| Value::of(step.light.as_ref().map(|light| light.value.clone()), Value::Words);
            found.unless_equal(&Place::of(new), Aspect::Light, light(old), light(new));
        }
    }
}

fn cautions(place: &Place, old: &[String], new: &[String], found: &mut Found) {
    let words = |text: &String| Value::Words(text.clone());
    for text in old.iter().filter(|text| !new.contains(text)) {
        found.unless_equal(place, Aspect::Caution, words(text), Value::Absent);
    }
    for text in new.iter().filter(|text| !old.contains(text)) {
        found.unless_equal(place, Aspect::Caution, Value::Absent, words(text));
    }
}
