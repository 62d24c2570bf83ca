//! Pairs the members of two lists by what they are called, and tells which of them moved. Two lists
//! of which all members are paired, equal and unmoved are equal.

use std::collections::{BTreeMap, BTreeSet};

/// A member of one list or of both.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Paired<'a, T> {
    /// In both.
    Both {
        /// As the old list has it.
        old: &'a T,
        /// As the new list has it.
        new: &'a T,
        /// What it follows in each list, if that is not where it was.
        moved: Option<(Option<&'a T>, Option<&'a T>)>,
    },
    /// In the old one only.
    Gone(&'a T),
    /// In the new one only, and what it follows there.
    Added(&'a T, Option<&'a T>),
}

/// Pairs them: in the order of the new list, and then what is gone. Where several are called the same,
/// the first goes with the first.
pub(super) fn pair<'a, T, K: Ord + Clone>(
    old: &'a [T],
    new: &'a [T],
    called: impl Fn(&'a T) -> K,
) -> Vec<Paired<'a, T>> {
    let (before, now) = (keyed(old, &called), keyed(new, &called));
    let places: BTreeMap<&(K, usize), usize> =
        before.iter().zip(0..).map(|((key, _), at)| (key, at)).collect();
    let kept: Vec<usize> = now.iter().filter_map(|(key, _)| places.get(key).copied()).collect();
    let still = rising(&kept);
    let mut all = Vec::new();
    let mut previous: Option<&((K, usize), &'a T)> = None;
    for entry in &now {
        let (key, member) = (&entry.0, entry.1);
        let follows = previous.map(|(_, member)| *member);
        let Some((at, (_, was))) = places.get(key).and_then(|at| Some((*at, before.get(*at)?))) else {
            all.push(Paired::Added(member, follows));
            previous = Some(entry);
            continue;
        };
        let followed = at.checked_sub(1).and_then(|at| before.get(at));
        // What follows what it always did has moved with it, and is not told apart.
        let alone = followed.map(|(key, _)| key) != previous.map(|(key, _)| key);
        let moved = (alone && still.binary_search(&at).is_err())
            .then_some((followed.map(|(_, member)| *member), follows));
        all.push(Paired::Both { old: was, new: member, moved });
        previous = Some(entry);
    }
    let kept: BTreeSet<usize> = kept.into_iter().collect();
    let gone = before.iter().zip(0..).filter(|(_, at)| !kept.contains(at));
    all.extend(gone.map(|((_, gone), _)| Paired::Gone(*gone)));
    all
}

/// Each member with what it is called, and how many before it are called the same.
type Keyed<'a, T, K> = Vec<((K, usize), &'a T)>;

fn keyed<'a, T, K: Ord + Clone>(list: &'a [T], called: &impl Fn(&'a T) -> K) -> Keyed<'a, T, K> {
    let mut seen: BTreeMap<K, usize> = BTreeMap::new();
    let mut all = Vec::new();
    for member in list {
        let key = called(member);
        let count = seen.entry(key.clone()).or_default();
        all.push(((key, *count), member));
        *count += 1;
    }
    all
}

/// The members of the longest rising row among these numbers, each of which occurs once; in order.
/// What is in it has stayed, what is not has moved.
fn rising(numbers: &[usize]) -> Vec<usize> {
    // The smallest end of a row of each length, and for each number the one before it in its row.
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
    let mut row: Vec<usize> = ends.last().copied().into_iter().collect();
    while let Some(previous) = row.last().and_then(|number| before.get(number)) {
        row.push(*previous);
    }
    row.reverse();
    row
}
