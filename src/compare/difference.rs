//! A difference, the comparison of the facts of one place in two recipes, and the pairing of two lists.

use crate::model::{Fact, Key, Solution, Step, StepKind, Value};
use crate::source::{Map, Set};

/// One difference between two recipes.
#[derive(Debug, Clone, PartialEq)]
pub struct Difference<'a> {
    /// The place of the difference in the recipe.
    pub place: Place<'a>,
    /// The fact that differs.
    pub key: Key<'a>,
    /// The name of the bottle to whose formula `key` belongs, if the solution has several bottles.
    pub bottle: Option<&'a str>,
    /// The old value.
    pub old: Value<'a>,
    /// The new value.
    pub new: Value<'a>,
    /// Whether the difference changes what a person does, and not only what the recipe states.
    pub is_work: bool,
}

/// The part of a recipe to which a difference belongs.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Place<'a> {
    /// The recipe as a whole.
    Recipe,
    /// The film.
    Film,
    /// The step of this kind and name. A difference in a solution is listed at the first step that uses the solution.
    Step(StepKind, Option<&'a str>),
}

impl<'a> Place<'a> {
    pub(super) fn of(step: &'a Step) -> Place<'a> {
        Place::Step(step.kind, step.name.as_deref())
    }
}

#[derive(Default)]
pub(super) struct Found<'a> {
    pub(super) all: Vec<Difference<'a>>,
    /// The pairs of an old and a new solution that were compared already, so that each pair is reported once.
    pub(super) solutions: Vec<(Option<*const Solution>, Option<*const Solution>)>,
}

impl<'a> Found<'a> {
    pub(super) fn work(&mut self, place: Place<'a>, key: Key<'a>, old: Value<'a>, new: Value<'a>) {
        self.all.push(Difference { place, key, bottle: None, old, new, is_work: true });
    }
}

/// The differences between the old and the new facts whose key is `wanted`. A formula of a step's solution that only
/// one recipe has is one difference; formulas of an added solution and of a replenisher are listed line by line.
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
    let after = |fact: Option<&&Fact<'a>>| {
        let line = fact.and_then(|fact| fact.key.line());
        Value::After(line.map(|(what, _)| what.to_owned()))
    };
    // A fact that only one recipe has. `Key::Makes` stands for a whole formula, so its difference says only that the
    // formula is present.
    let lone = |fact: &Fact<'a>| match fact.key {
        Key::Makes(bottle) => (true, Key::Formula(bottle), Value::Present),
        key => (fact.is_work, key, fact.value.clone()),
    };
    let mut all = Vec::new();
    let mut add = |is_work, key, old, new| {
        all.push(Difference { place, key, bottle: None, old, new, is_work });
    };
    for paired in pair(&old, &new, |fact| fact.key) {
        match paired {
            Paired::Both { old, new, moved } => {
                if let (Some((before, now)), Some((_, order))) = (moved, new.key.line()) {
                    add(old.is_work || new.is_work, order, after(before), after(now));
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

pub(super) enum Paired<'a, T> {
    /// A member of both lists. If it has moved, `moved` has the member before it in each list, old and new.
    Both { old: &'a T, new: &'a T, moved: Option<(Option<&'a T>, Option<&'a T>)> },
    /// A member of the old list only.
    Gone(&'a T),
    /// A member of the new list only, and the member before it in that list.
    Added(&'a T, Option<&'a T>),
}

/// Pairs the members of two lists by key. The result has all members of `new` in order, then the members that only
/// `old` has. If several members have the same key, the first of `old` is paired with the first of `new`, and so on.
pub(super) fn pair<'a, T, K: Ord + Clone>(
    old: &'a [T],
    new: &'a [T],
    key: impl Fn(&'a T) -> K,
) -> Vec<Paired<'a, T>> {
    let (before, now) = (keys(old, &key), keys(new, &key));
    let places: Map<&(K, usize), usize> = before.iter().zip(0..).collect();
    let kept: Vec<usize> = now.iter().filter_map(|key| places.get(key).copied()).collect();
    let unmoved = rising(&kept);
    let mut all = Vec::new();
    let mut previous = None;
    for (key, member) in now.iter().zip(new) {
        let follows = previous.map(|(_, member)| member);
        if let Some((at, old_member)) = places.get(key).and_then(|at| Some((*at, old.get(*at)?))) {
            let followed = at.checked_sub(1).and_then(|at| Some((before.get(at)?, old.get(at)?)));
            // A member that follows the same member in both lists has moved with that member, so its move is not
            // reported.
            let alone = followed.map(|(key, _)| key) != previous.map(|(key, _)| key);
            let moved = (alone && !unmoved.contains(&at)).then_some((followed.map(|(_, old)| old), follows));
            all.push(Paired::Both { old: old_member, new: member, moved });
        } else {
            all.push(Paired::Added(member, follows));
        }
        previous = Some((key, member));
    }
    let kept: Set<usize> = kept.into_iter().collect();
    all.extend(old.iter().zip(0..).filter(|(_, at)| !kept.contains(at)).map(|(gone, _)| Paired::Gone(gone)));
    all
}

/// The key of each member, with the number of earlier members that have this key.
fn keys<'a, T, K: Ord + Clone>(list: &'a [T], key: &impl Fn(&'a T) -> K) -> Vec<(K, usize)> {
    let mut seen: Map<K, usize> = Map::new();
    let with_count = |key: K| {
        let count = seen.value_of(key.clone());
        *count += 1;
        (key, *count - 1)
    };
    list.iter().map(key).map(with_count).collect()
}

/// The longest rising subsequence of `numbers`. The numbers are indices in the old list, each at most once. Members
/// with an index in the result have not moved.
fn rising(numbers: &[usize]) -> Set<usize> {
    // `ends` has the smallest last number of a rising subsequence of each length. `before` has, for each number, the
    // number before it in its subsequence.
    let mut ends: Vec<usize> = Vec::new();
    let mut before: Map<usize, usize> = Map::new();
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
    std::iter::successors(ends.last().copied(), |number| before.get(number).copied()).collect()
}
