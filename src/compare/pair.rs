//! Pairs the members of two lists, and finds those that have moved.

use std::collections::{BTreeMap, BTreeSet};

/// A member of one list or of both.
#[derive(Debug)]
pub(super) enum Paired<'a, T> {
    /// In both, and what it follows in each list if it has moved.
    Both { old: &'a T, new: &'a T, moved: Option<(Option<&'a T>, Option<&'a T>)> },
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
    let (before, now) = (keys(old, &key), keys(new, &key));
    let places: BTreeMap<&(K, usize), usize> = before.iter().zip(0..).collect();
    let kept: Vec<usize> = now.iter().filter_map(|key| places.get(key).copied()).collect();
    let unmoved = rising(&kept);
    let mut all = Vec::new();
    let mut previous = None;
    for (key, member) in now.iter().zip(new) {
        let follows = previous.map(|(_, member)| member);
        if let Some((at, old_member)) = places.get(key).and_then(|at| Some((*at, old.get(*at)?))) {
            let followed = at.checked_sub(1).and_then(|at| Some((before.get(at)?, old.get(at)?)));
            // A member that still follows the same one has moved with it, and is not reported.
            let alone = followed.map(|(key, _)| key) != previous.map(|(key, _)| key);
            let moved = (alone && !unmoved.contains(&at)).then_some((followed.map(|(_, old)| old), follows));
            all.push(Paired::Both { old: old_member, new: member, moved });
        } else {
            all.push(Paired::Added(member, follows));
        }
        previous = Some((key, member));
    }
    let kept: BTreeSet<usize> = kept.into_iter().collect();
    all.extend(old.iter().zip(0..).filter(|(_, at)| !kept.contains(at)).map(|(gone, _)| Paired::Gone(gone)));
    all
}

/// The key of each member, with the number of earlier members that have the same one.
fn keys<'a, T, K: Ord + Clone>(list: &'a [T], key: &impl Fn(&'a T) -> K) -> Vec<(K, usize)> {
    let mut seen: BTreeMap<K, usize> = BTreeMap::new();
    let with_count = |key: K| {
        let count = seen.entry(key.clone()).or_default();
        *count += 1;
        (key, *count - 1)
    };
    list.iter().map(key).map(with_count).collect()
}

/// The longest rising subsequence of numbers that each occur once: the members that have not moved.
fn rising(numbers: &[usize]) -> BTreeSet<usize> {
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
    std::iter::successors(ends.last().copied(), |number| before.get(number).copied()).collect()
}
