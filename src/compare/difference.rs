//! A difference between two recipes, and those in the facts of one place.

use super::pair::{Paired, pair};
use crate::model::{Fact, Key, Solution, Step, StepKind, Value};

/// One difference between two recipes.
#[derive(Debug, Clone, PartialEq)]
pub struct Difference<'a> {
    /// The part of the recipe it is in.
    pub place: Place<'a>,
    /// What differs in that part.
    pub key: Key<'a>,
    /// The bottle whose formula it is in, if the solution has several.
    pub bottle: Option<&'a str>,
    /// The value in the old recipe.
    pub old: Value<'a>,
    /// The value in the new recipe.
    pub new: Value<'a>,
    /// Whether the work differs.
    pub is_work: bool,
}

impl<'a> Difference<'a> {
    /// A difference in the work.
    pub(super) fn work(place: Place<'a>, key: Key<'a>, old: Value<'a>, new: Value<'a>) -> Difference<'a> {
        Difference { place, key, bottle: None, old, new, is_work: true }
    }
}

/// A part of a recipe.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Place<'a> {
    /// The recipe itself.
    Recipe,
    /// Its film.
    Film,
    /// A step by its kind and name. The differences of a solution are in the first step that uses it.
    Step(StepKind, Option<&'a str>),
}

impl<'a> Place<'a> {
    pub(super) fn of(step: &'a Step) -> Place<'a> {
        Place::Step(step.kind, step.name.as_deref())
    }
}

/// The differences found up to now.
#[derive(Debug, Default)]
pub(super) struct Found<'a> {
    pub(super) all: Vec<Difference<'a>>,
    /// The compared pairs of solutions: if two steps have the same pair, it is reported once.
    pub(super) solutions: Vec<(Option<*const Solution>, Option<*const Solution>)>,
}

impl<'a> Found<'a> {
    /// Adds a difference in the work.
    pub(super) fn work(&mut self, place: Place<'a>, key: Key<'a>, old: Value<'a>, new: Value<'a>) {
        self.all.push(Difference::work(place, key, old, new));
    }

    /// Adds the differences in the facts of one place with these keys.
    pub(super) fn facts(
        &mut self,
        place: Place<'a>,
        old: &[Fact<'a>],
        new: &[Fact<'a>],
        wanted: impl Fn(Key<'a>) -> bool,
    ) {
        self.all.extend(differences(place, old, new, wanted));
    }
}

/// The differences in the facts of one place with these keys. An absent formula is one difference, in place of its
/// lines.
pub(super) fn differences<'a, 'f>(
    place: Place<'a>,
    old: &'f [Fact<'a>],
    new: &'f [Fact<'a>],
    wanted: impl Fn(Key<'a>) -> bool,
) -> Vec<Difference<'a>> {
    let own = |facts: &'f [Fact<'a>]| -> Vec<&'f Fact<'a>> {
        facts.iter().filter(|fact| wanted(fact.key)).collect()
    };
    let (old, new) = (own(old), own(new));
    let has_formula = |facts: &[&Fact<'_>], key: Key<'_>| match key {
        Key::Item(bottle, _) => facts.iter().any(|fact| fact.key == Key::Makes(bottle)),
        _ => true,
    };
    let after = |fact: Option<&&Fact<'a>>| match fact.map(|fact| fact.key) {
        Some(Key::Item(_, what)) => Value::After(Some(what.to_owned())),
        _ => Value::After(None),
    };
    // A formula that one side lacks is present or absent; any other fact has its value.
    let lone = |fact: &Fact<'a>| match fact.key {
        Key::Makes(bottle) => (true, Key::Formula(bottle), Value::Present),
        key => (fact.is_work, key, fact.value.clone()),
    };
    let mut all = Vec::new();
    let mut add = |is_work, key, old, new| {
        all.push(Difference { is_work, ..Difference::work(place, key, old, new) });
    };
    for paired in pair(&old, &new, |fact| fact.key) {
        match paired {
            Paired::Both { old, new, moved } => {
                if let (Some((before, now)), Key::Item(bottle, what)) = (moved, new.key) {
                    add(true, Key::ItemOrder(bottle, what), after(before), after(now));
                }
                if old.value != new.value {
                    add(old.is_work || new.is_work, new.key, old.value.clone(), new.value.clone());
                }
            }
            Paired::Gone(fact) if has_formula(&new, fact.key) => {
                let (is_work, key, value) = lone(fact);
                add(is_work, key, value, Value::Absent);
            }
            Paired::Added(fact, _) if has_formula(&old, fact.key) => {
                let (is_work, key, value) = lone(fact);
                add(is_work, key, Value::Absent, value);
            }
            Paired::Gone(_) | Paired::Added(..) => {}
        }
    }
    all
}
