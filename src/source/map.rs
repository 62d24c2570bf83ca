//! Maps and sets as sorted lists. The library's tree is compiled for every pair of types, 5,000 lines each time, which was
//! a sixth of this program's build; these take a tenth of that. A key that does not come last moves those after it, so a
//! map of which thousands of keys come in any order, or that is emptied from its front, is better a tree.

use std::borrow::Borrow;

use super::Sorted;

/// A map, in the order of its keys.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord)]
pub struct Map<K, V> {
    entries: Vec<(K, V)>,
}

impl<K, V> Map<K, V> {
    /// A map without keys.
    pub const fn new() -> Map<K, V> {
        Map { entries: Vec::new() }
    }

    /// The number of keys.
    pub fn len(&self) -> usize {
        self.entries.len()
    }

    /// Whether the map has no keys.
    pub fn is_empty(&self) -> bool {
        self.entries.is_empty()
    }

    /// The keys with their values.
    pub fn iter(&self) -> impl DoubleEndedIterator<Item = (&K, &V)> + ExactSizeIterator + Clone {
        self.entries.iter().map(|(key, value)| (key, value))
    }

    /// The keys.
    pub fn keys(&self) -> impl DoubleEndedIterator<Item = &K> + ExactSizeIterator + Clone {
        self.entries.iter().map(|(key, _)| key)
    }

    /// The values, in the order of their keys.
    pub fn values(&self) -> impl DoubleEndedIterator<Item = &V> + ExactSizeIterator + Clone {
        self.entries.iter().map(|(_, value)| value)
    }

    /// The values, in the order of their keys.
    pub fn values_mut(&mut self) -> impl Iterator<Item = &mut V> {
        self.entries.iter_mut().map(|(_, value)| value)
    }

    /// The values, in the order of their keys.
    pub fn into_values(self) -> impl Iterator<Item = V> {
        self.entries.into_iter().map(|(_, value)| value)
    }

    /// Removes all keys.
    pub fn clear(&mut self) {
        self.entries.clear();
    }

    /// Keeps only the keys for which the function returns true.
    pub fn retain(&mut self, mut is_kept: impl FnMut(&K, &mut V) -> bool) {
        self.entries.retain_mut(|(key, value)| is_kept(key, value));
    }
}

impl<K: Ord, V> Map<K, V> {
    /// The place of a key, or the place where it belongs.
    fn find<Q: Ord + ?Sized>(&self, sought: &Q) -> Result<usize, usize>
    where
        K: Borrow<Q>,
    {
        self.entries.binary_search_by(|(key, _)| key.borrow().cmp(sought))
    }

    /// The value of a key; `None` if the map lacks the key.
    pub fn get<Q: Ord + ?Sized>(&self, key: &Q) -> Option<&V>
    where
        K: Borrow<Q>,
    {
        let at = self.find(key).ok()?;
        self.entries.get(at).map(|(_, value)| value)
    }

    /// The value of a key; `None` if the map lacks the key.
    pub fn get_mut<Q: Ord + ?Sized>(&mut self, key: &Q) -> Option<&mut V>
    where
        K: Borrow<Q>,
    {
        let at = self.find(key).ok()?;
        self.entries.get_mut(at).map(|(_, value)| value)
    }

    /// Whether the map has this key.
    pub fn contains_key<Q: Ord + ?Sized>(&self, key: &Q) -> bool
    where
        K: Borrow<Q>,
    {
        self.find(key).is_ok()
    }

    /// The last key that is at most this one, with its value.
    pub fn last_up_to(&self, until: &K) -> Option<(&K, &V)> {
        let count = self.entries.partition_point(|(key, _)| key <= until);
        self.entries.get(count.checked_sub(1)?).map(|(key, value)| (key, value))
    }

    /// Gives a key this value. Returns the value that it had before; `None` if it is new.
    pub fn insert(&mut self, key: K, value: V) -> Option<V> {
        match self.find(&key) {
            Ok(at) => self.entries.get_mut(at).map(|(_, old)| std::mem::replace(old, value)),
            Err(at) => {
                self.entries.insert(at, (key, value));
                None
            }
        }
    }

    /// Removes a key. Returns its value; `None` if the map lacks the key.
    pub fn remove<Q: Ord + ?Sized>(&mut self, key: &Q) -> Option<V>
    where
        K: Borrow<Q>,
    {
        let at = self.find(key).ok()?;
        Some(self.entries.remove(at).1)
    }

    /// The value of a key. A key that the map lacks is added with the default value.
    pub fn value_of(&mut self, key: K) -> &mut V
    where
        V: Default,
    {
        self.value_or(key, V::default)
    }

    /// The value of a key. A key that the map lacks is added with the value that the function returns.
    pub fn value_or(&mut self, key: K, value: impl FnOnce() -> V) -> &mut V {
        let at = self.find(&key).unwrap_or_else(|at| {
            self.entries.insert(at, (key, value()));
            at
        });
        #[allow(clippy::indexing_slicing, reason = "the key is at this place")]
        &mut self.entries[at].1
    }
}

impl<K, V> Default for Map<K, V> {
    fn default() -> Map<K, V> {
        Map::new()
    }
}

impl<K: Ord, V> FromIterator<(K, V)> for Map<K, V> {
    fn from_iter<I: IntoIterator<Item = (K, V)>>(all: I) -> Map<K, V> {
        let mut entries: Vec<(K, V)> = all.into_iter().collect();
        if !entries.is_sorted_by(|(one, _), (other, _)| one < other) {
            entries.order_by(|(one, _), (other, _)| one.cmp(other));
            // Of several values of a key, the last one remains.
            entries.dedup_by(|later, earlier| {
                let are_same = later.0 == earlier.0;
                if are_same {
                    std::mem::swap(later, earlier);
                }
                are_same
            });
        }
        Map { entries }
    }
}

impl<K: Ord, V> Extend<(K, V)> for Map<K, V> {
    fn extend<I: IntoIterator<Item = (K, V)>>(&mut self, all: I) {
        all.into_iter().for_each(|(key, value)| {
            self.insert(key, value);
        });
    }
}

impl<K: Ord, V, const N: usize> From<[(K, V); N]> for Map<K, V> {
    fn from(all: [(K, V); N]) -> Map<K, V> {
        all.into_iter().collect()
    }
}

impl<K, V> IntoIterator for Map<K, V> {
    type Item = (K, V);
    type IntoIter = std::vec::IntoIter<(K, V)>;

    fn into_iter(self) -> Self::IntoIter {
        self.entries.into_iter()
    }
}

impl<'a, K, V> IntoIterator for &'a Map<K, V> {
    type Item = (&'a K, &'a V);
    type IntoIter = std::iter::Map<std::slice::Iter<'a, (K, V)>, fn(&'a (K, V)) -> (&'a K, &'a V)>;

    fn into_iter(self) -> Self::IntoIter {
        self.entries.iter().map(|(key, value)| (key, value))
    }
}

/// A set, in order.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord)]
pub struct Set<K> {
    map: Map<K, ()>,
}

impl<K> Set<K> {
    /// A set without keys.
    pub const fn new() -> Set<K> {
        Set { map: Map::new() }
    }

    /// The number of keys.
    pub fn len(&self) -> usize {
        self.map.len()
    }

    /// Whether the set has no keys.
    pub fn is_empty(&self) -> bool {
        self.map.is_empty()
    }

    /// The keys.
    pub fn iter(&self) -> impl DoubleEndedIterator<Item = &K> + ExactSizeIterator + Clone {
        self.map.keys()
    }

    /// The least key; `None` if there are none.
    pub fn first(&self) -> Option<&K> {
        self.iter().next()
    }
}

impl<K: Ord> Set<K> {
    /// Whether the set has this key.
    pub fn contains<Q: Ord + ?Sized>(&self, key: &Q) -> bool
    where
        K: Borrow<Q>,
    {
        self.map.contains_key(key)
    }

    /// The last key that is at most this one.
    pub fn last_up_to(&self, until: &K) -> Option<&K> {
        self.map.last_up_to(until).map(|(key, ())| key)
    }

    /// Adds a key. Returns whether it is new.
    pub fn insert(&mut self, key: K) -> bool {
        self.map.insert(key, ()).is_none()
    }

    /// The keys that the other set lacks.
    pub fn difference(&self, other: &Set<K>) -> impl Iterator<Item = &K> {
        self.iter().filter(|key| !other.contains(*key))
    }
}

impl<K> Default for Set<K> {
    fn default() -> Set<K> {
        Set::new()
    }
}

impl<K: Ord> FromIterator<K> for Set<K> {
    fn from_iter<I: IntoIterator<Item = K>>(all: I) -> Set<K> {
        Set { map: all.into_iter().map(|key| (key, ())).collect() }
    }
}

impl<K: Ord> Extend<K> for Set<K> {
    fn extend<I: IntoIterator<Item = K>>(&mut self, all: I) {
        self.map.extend(all.into_iter().map(|key| (key, ())));
    }
}

impl<K: Ord, const N: usize> From<[K; N]> for Set<K> {
    fn from(all: [K; N]) -> Set<K> {
        all.into_iter().collect()
    }
}

impl<K> IntoIterator for Set<K> {
    type Item = K;
    type IntoIter = std::iter::Map<std::vec::IntoIter<(K, ())>, fn((K, ())) -> K>;

    fn into_iter(self) -> Self::IntoIter {
        self.map.into_iter().map(|(key, ())| key)
    }
}

impl<'a, K> IntoIterator for &'a Set<K> {
    type Item = &'a K;
    type IntoIter = std::iter::Map<std::slice::Iter<'a, (K, ())>, fn(&'a (K, ())) -> &'a K>;

    fn into_iter(self) -> Self::IntoIter {
        self.map.entries.iter().map(|(key, ())| key)
    }
}
