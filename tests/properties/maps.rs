//! Maps and sets as sorted lists do the same as the library's trees, on random keys.

use std::collections::{BTreeMap, BTreeSet};

use proptest::prelude::*;
use wetside::source::{Map, Set};

use super::tried;

/// Keys that come in any order, some of them twice, each with a value.
fn entries() -> impl Strategy<Value = Vec<(u8, u32)>> {
    proptest::collection::vec((0_u8..40, any::<u32>()), 0..60)
}

fn of_map(map: &Map<u8, u32>) -> Vec<(u8, u32)> {
    map.iter().map(|(key, value)| (*key, *value)).collect()
}

fn of_tree(tree: &BTreeMap<u8, u32>) -> Vec<(u8, u32)> {
    tree.iter().map(|(key, value)| (*key, *value)).collect()
}

proptest! {
    #![proptest_config(tried(200))]

    #[test]
    fn a_map_does_what_a_tree_does(first in entries(), more in entries(), gone in entries()) {
        let mut map: Map<u8, u32> = first.iter().copied().collect();
        let mut tree: BTreeMap<u8, u32> = first.into_iter().collect();
        prop_assert_eq!(of_map(&map), of_tree(&tree));
        for (key, value) in &more {
            prop_assert_eq!(map.insert(*key, *value), tree.insert(*key, *value));
        }
        for (key, value) in &gone {
            prop_assert_eq!(map.get(key), tree.get(key));
            prop_assert_eq!(map.contains_key(key), tree.contains_key(key));
            prop_assert_eq!(map.last_up_to(key), tree.range(..=key).next_back());
            prop_assert_eq!(map.remove(key), tree.remove(key));
            prop_assert_eq!(map.value_or(*key, || *value), tree.entry(*key).or_insert(*value));
        }
        map.retain(|_, value| value.is_multiple_of(2));
        tree.retain(|_, value| value.is_multiple_of(2));
        map.extend(more.iter().copied());
        tree.extend(more);
        prop_assert_eq!(of_map(&map), of_tree(&tree));
        prop_assert_eq!((map.len(), map.is_empty()), (tree.len(), tree.is_empty()));
        prop_assert_eq!(map.keys().next_back(), tree.keys().next_back());
        prop_assert_eq!(map.into_values().collect::<Vec<_>>(), tree.into_values().collect::<Vec<_>>());
    }

    #[test]
    fn a_set_does_what_a_tree_does(first in entries(), more in entries()) {
        let mut set: Set<u8> = first.iter().map(|(key, _)| *key).collect();
        let mut tree: BTreeSet<u8> = first.into_iter().map(|(key, _)| key).collect();
        let others: Set<u8> = more.iter().map(|(key, _)| *key).collect();
        let other_tree: BTreeSet<u8> = more.iter().map(|(key, _)| *key).collect();
        prop_assert!(set.difference(&others).eq(tree.difference(&other_tree)));
        for (key, _) in &more {
            prop_assert_eq!(set.last_up_to(key), tree.range(..=key).next_back());
            prop_assert_eq!((set.contains(key), set.insert(*key)), (tree.contains(key), tree.insert(*key)));
        }
        prop_assert_eq!((set.len(), set.first()), (tree.len(), tree.first()));
        prop_assert!(set.into_iter().eq(tree));
    }
}
