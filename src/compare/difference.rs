//! A difference: where, in what, and what either side has.

use super::pairing::{Paired, pair};
use crate::model::{Fact, Key, Solution, Step, StepKind, Value};

/// One difference between two recipes.
#[derive(Debug, Clone, PartialEq)]
pub struct Difference<'a> {
    /// What part of the recipe it is in.
    pub place: Place<'a>,
    /// In what of it.
    pub key: Key<'a>,
    /// The bottle whose formula it is in, where the solution comes in several.
    pub bottle: Option<&'a str>,
    /// What the old one has.
    pub old: Value<'a>,
    /// What the new one has.
    pub new: Value<'a>,
    /// Whether the work differs; else only what is said of it.
    pub is_work: bool,
}

/// A part of a recipe.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Place<'a> {
    /// The recipe itself.
    Recipe,
    /// Its film.
    Film,
    /// A step: its kind, and its name where it has one. What differs in a solution stands with the first step that
    /// takes it.
    Step(StepKind, Option<&'a str>),
}

impl<'a> Place<'a> {
    /// The place that a step is.
    pub(super) fn of(step: &'a Step) -> Place<'a> {
        Place::Step(step.kind, step.name.as_deref())
    }
}

/// The differences found so far.
#[derive(Debug, Default)]
pub(super) struct Found<'a> {
    pub(super) all: Vec<Difference<'a>>,
    /// The pairs of solutions whose differences are told: one that works in two steps is told once.
    solutions: Vec<(*const Solution, *const Solution)>,
}

impl<'a> Found<'a> {
    /// Adds a difference in the work.
    pub(super) fn work(&mut self, place: Place<'a>, key: Key<'a>, old: Value<'a>, new: Value<'a>) {
        self.all.push(Difference { place, key, bottle: None, old, new, is_work: true });
    }

    /// Adds a difference in what is said.
    pub(super) fn said(&mut self, place: Place<'a>, key: Key<'a>, old: Value<'a>, new: Value<'a>) {
        self.all.push(Difference { place, key, bottle: None, old, new, is_work: false });
    }

    /// Adds what differs in the facts of one place.
    pub(super) fn facts(&mut self, place: Place<'a>, old: &[&Fact<'a>], new: &[&Fact<'a>]) {
        self.all.extend(differences(place, old, new));
    }

    /// Adds what differs in the facts of two solutions, each of which has its names for its bottles.
    pub(super) fn solutions(
        &mut self,
        place: Place<'a>,
        (old, old_facts): (Option<&'a Solution>, &[&Fact<'a>]),
        (new, new_facts): (Option<&'a Solution>, &[&Fact<'a>]),
    ) {
        let pointer = |solution: Option<&Solution>| solution.map_or(std::ptr::null(), std::ptr::from_ref);
        let both = (pointer(old), pointer(new));
        let is_known = self.solutions.contains(&both);
        let bottle =
            |number: usize| new.or(old).and_then(|solution| Some(solution.parts.get(number)?.as_str()));
        for mut difference in differences(place, old_facts, new_facts) {
            if let Key::Item(number, _)
            | Key::ItemOrder(number, _)
            | Key::Formula(number)
            | Key::Makes(number) = difference.key
            {
                difference.bottle = bottle(number);
            }
            let said =
                |told: &Difference<'_>| Difference { place: told.place, ..difference.clone() } == *told;
            if !(is_known && self.all.iter().any(said)) {
                self.all.push(difference);
            }
        }
        self.solutions.push(both);
    }
}

/// What differs in the facts of one place. A formula that is not there is told in place of its lines.
fn differences<'a>(place: Place<'a>, old: &[&Fact<'a>], new: &[&Fact<'a>]) -> Vec<Difference<'a>> {
    let mut all = Vec::new();
    let mut tell = |is_work, key, old: &Value<'a>, new: &Value<'a>| {
        let (old, new) = (old.clone(), new.clone());
        all.push(Difference { place, key, bottle: None, old, new, is_work });
    };
    let is_made = |facts: &[&Fact<'_>], key: Key<'_>| !matches!(key, Key::Item(bottle, _) if facts.iter().all(|fact| fact.key != Key::Makes(bottle)));
    for paired in pair(old, new, |fact| fact.key) {
        match paired {
            Paired::Both { old, new, moved } => {
                if let (Some((before, now)), Key::Item(bottle, what)) = (moved, new.key) {
                    tell(true, Key::ItemOrder(bottle, what), &behind(before), &behind(now));
                }
                if old.value != new.value {
                    tell(old.is_work || new.is_work, new.key, &old.value, &new.value);
                }
            }
            Paired::Gone(fact) if is_made(new, fact.key) => match fact.key {
                Key::Makes(bottle) => tell(true, Key::Formula(bottle), &Value::Present, &Value::Absent),
                key => tell(fact.is_work, key, &fact.value, &Value::Absent),
            },
            Paired::Added(fact, _) if is_made(old, fact.key) => match fact.key {
                Key::Makes(bottle) => tell(true, Key::Formula(bottle), &Value::Absent, &Value::Present),
                key => tell(fact.is_work, key, &Value::Absent, &fact.value),
            },
            Paired::Gone(_) | Paired::Added(..) => {}
        }
    }
    all
}

/// What a line of a formula stands after.
fn behind<'a>(fact: Option<&&Fact<'a>>) -> Value<'a> {
    Value::After(fact.and_then(|fact| match fact.key {
        Key::Item(_, what) => Some(what.to_owned()),
        _ => None,
    }))
}
