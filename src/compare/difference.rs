//! A difference between two recipes, and the pairing of two lists that finds it.

use std::collections::{BTreeMap, BTreeSet};

use crate::model::{Fact, Key, Solution, Step, StepKind, Value};

/// One difference between two recipes.
#[derive(Debug, Clone, PartialEq)]
pub struct Difference<'a> {
    /// The part of the recipe it is in.
    pub place: Place<'a>,
    /// What differs in that part.
    pub key: Key<'a>,
    /// The bottle whose formula it is in, where the solution comes in several.
    pub bottle: Option<&'a str>,
    /// What the old recipe has.
    pub old: Value<'a>,
    /// What the new recipe has.
    pub new: Value<'a>,
    /// Whether the work differs.
    pub is_work: bool,
}

/// A part of a recipe.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Place<'a> {
    /// The recipe itself.
    Recipe,
    /// Its film.
    Film,
    /// A step: its kind, and its name where it has one. A solution's differences are in the first step that uses it.
    Step(StepKind, Option<&'a str>),
}

impl<'a> Place<'a> {
    pub(super) fn of(step: &'a Step) -> Place<'a> {
        Place::Step(step.kind, step.name.as_deref())
    }
}

/// The solution of one side, and its facts.
pub(super) struct SolutionFacts<'a, 'f> {
    pub(super) solution: Option<&'a Solution>,
    pub(super) facts: Vec<&'f Fact<'a>>,
}

/// The differences found so far.
#[derive(Debug, Default)]
pub(super) struct Found<'a> {
    pub(super) all: Vec<Difference<'a>>,
    /// The pairs of solutions compared already: two steps of the same pair report it once.
    solutions: Vec<(Option<*const Solution>, Option<*const Solution>)>,
}

impl<'a> Found<'a> {
    /// Adds a difference in the work.
    pub(super) fn work(&mut self, place: Place<'a>, key: Key<'a>, old: Value<'a>, new: Value<'a>) {
        self.all.push(Difference { place, key, bottle: None, old, new, is_work: true });
    }

    /// Adds what differs in the facts of one place.
    pub(super) fn facts(&mut self, place: Place<'a>, old: &[&Fact<'a>], new: &[&Fact<'a>]) {
        self.all.extend(differences(place, old, new));
    }

    /// Adds what differs in two solutions, with the new one's names for the bottles.
    pub(super) fn solutions(
        &mut self,
        place: Place<'a>,
        old: &SolutionFacts<'a, '_>,
        new: &SolutionFacts<'a, '_>,
    ) {
        let pointer = |side: &SolutionFacts<'_, '_>| side.solution.map(std::ptr::from_ref);
        let both = (pointer(old), pointer(new));
        let is_known = self.solutions.contains(&both);
        for mut difference in differences(place, &old.facts, &new.facts) {
            if let Key::Item(number, _)
            | Key::ItemOrder(number, _)
            | Key::Formula(number)
            | Key::Makes(number) = difference.key
            {
                let named = new.solution.or(old.solution);
                difference.bottle = named.and_then(|solution| Some(solution.parts.get(number)?.as_str()));
            }
            let is_same =
                |other: &Difference<'_>| Difference { place: other.place, ..difference.clone() } == *other;
            if !(is_known && self.all.iter().any(is_same)) {
                self.all.push(difference);
            }
        }
        self.solutions.push(both);
    }
}

/// What differs in the facts of one place. An absent formula is one difference, in place of its lines.
fn differences<'a>(place: Place<'a>, old: &[&Fact<'a>], new: &[&Fact<'a>]) -> Vec<Difference<'a>> {
    let mut all = Vec::new();
    let mut add = |is_work, key, old: Value<'a>, new: Value<'a>| {
        all.push(Difference { place, key, bottle: None, old, new, is_work });
    };
    let has_formula = |facts: &[&Fact<'_>], key: Key<'_>| match key {
        Key::Item(bottle, _) => facts.iter().any(|fact| fact.key == Key::Makes(bottle)),
        _ => true,
    };
    let after = |fact: Option<&&Fact<'a>>| match fact.map(|fact| fact.key) {
        Some(Key::Item(_, what)) => Value::After(Some(what.to_owned())),
        _ => Value::After(None),
    };
    // A formula that one side lacks is present or absent; any other fact has its value.
    let of = |fact: &Fact<'a>| match fact.key {
        Key::Makes(bottle) => (true, Key::Formula(bottle), Value::Present),
        key => (fact.is_work, key, fact.value.clone()),
    };
    for paired in pair(old, new, |fact| fact.key) {
        match paired {
            Paired::Both { old, new, moved } => {
                if let (Some((before, now)), Key::Item(bottle, what)) = (moved, new.key) {
                    add(true, Key::ItemOrder(bottle, what), after(before), after(now));
                }
                if old.value != new.value {
                    add(old.is_work || new.is_work, new.key, old.value.clone(), new.value.clone());
                }
            }
            Paired::Gone(fact) if has_formula(new, fact.key) => {
                let (is_work, key, value) = of(fact);
                add(is_work, key, value, Value::Absent);
            }
            Paired::Added(fact, _) if has_formula(old, fact.key) => {
                let (is_work, key, value) = of(fact);
                add(is_work, key, Value::Absent, value);
            }
            Paired::Gone(_) | Paired::Added(..) => {}
        }
    }
    all
}

/// A member of one list or of both.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Paired<'a, T> {
    /// In both.
    Both {
        /// As the old list has it.
        old: &'a T,
        /// As the new list has it.
        new: &'a T,
        /// What it follows in each list, if it has moved.
        moved: Option<(Option<&'a T>, Option<&'a T>)>,
    },
    /// In the old one only.
    Gone(&'a T),
    /// In the new one only, and what it follows there.
    Added(&'a T, Option<&'a T>),
}

/// Pairs the members of two lists by key: in the order of the new list, then those that are gone.
/// Of several with one key, the first is paired with the first. Equal lists give equal, unmoved pairs only.
pub(super) fn pair<'a, T, K: Ord + Clone>(
    old: &'a [T],
    new: &'a [T],
    key: impl Fn(&'a T) -> K,
) -> Vec<Paired<'a, T>> {
    let (before, now) = (keyed(old, &key), keyed(new, &key));
    let places: BTreeMap<&(K, usize), usize> =
        before.iter().zip(0..).map(|((key, _), at)| (key, at)).collect();
    let kept: Vec<usize> = now.iter().filter_map(|(key, _)| places.get(key).copied()).collect();
    let unmoved = rising(&kept);
    let mut all = Vec::new();
    let mut previous: Option<&((K, usize), &'a T)> = None;
    for entry in &now {
        let follows = previous.map(|(_, member)| *member);
        if let Some((at, (_, old))) = places.get(&entry.0).and_then(|at| Some((*at, before.get(*at)?))) {
            let followed = at.checked_sub(1).and_then(|at| before.get(at));
            // A member that still follows the same one has moved with it, and is not reported.
            let alone = followed.map(|(key, _)| key) != previous.map(|(key, _)| key);
            let moved = (alone && unmoved.binary_search(&at).is_err())
                .then_some((followed.map(|(_, member)| *member), follows));
            all.push(Paired::Both { old: *old, new: entry.1, moved });
        } else {
            all.push(Paired::Added(entry.1, follows));
        }
        previous = Some(entry);
    }
    let kept: BTreeSet<usize> = kept.into_iter().collect();
    let gone = before.iter().zip(0..).filter(|(_, at)| !kept.contains(at));
    all.extend(gone.map(|((_, gone), _)| Paired::Gone(*gone)));
    all
}

/// Each member with its key and the number of earlier members with that key.
type Keyed<'a, T, K> = Vec<((K, usize), &'a T)>;

fn keyed<'a, T, K: Ord + Clone>(list: &'a [T], key: &impl Fn(&'a T) -> K) -> Keyed<'a, T, K> {
    let mut seen: BTreeMap<K, usize> = BTreeMap::new();
    let with_count = |member| {
        let key = key(member);
        let count = seen.entry(key.clone()).or_default();
        *count += 1;
        ((key, *count - 1), member)
    };
    list.iter().map(with_count).collect()
}

/// The longest rising subsequence of numbers that each occur once: the members that have not moved.
fn rising(numbers: &[usize]) -> Vec<usize> {
    // The smallest end of a subsequence of each length, and for each number the one before it.
    let mut ends: Vec<usize> = Vec::new();
    let mut before: BTreeMap<usize, usize> = BTreeMap::new();
    for number in numbers {
        let length = ends.partition_point(|end| end < number);
        if let Some(previous) = length.checked_sub(1).and_then(|at| ends.get(at)) {
            before.insert(*number, *previous);
        }
        match ends.get_mut(length) {
            Some(end) => *end = *number,
            None => ends.push(*number),
        }
    }
    let last = ends.last().copied();
    let mut row: Vec<usize> = std::iter::successors(last, |number| before.get(number).copied()).collect();
    row.reverse();
    row
}
