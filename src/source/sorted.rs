//! Sorting. The library's sort is compiled for every type and every comparison, 6 kB of the program each time. Here it is
//! compiled once, for indices, and the items follow their indices.

use std::cmp::Ordering;

/// Sorts a list. Equal items keep their order.
pub(crate) trait Sorted<T> {
    /// Sorts by a comparison.
    fn order_by(&mut self, compare: impl Fn(&T, &T) -> Ordering);

    /// Sorts by a key, which is calculated at each comparison.
    fn order_by_key<K: Ord>(&mut self, key: impl Fn(&T) -> K) {
        self.order_by(|one, other| key(one).cmp(&key(other)));
    }
}

impl<T> Sorted<T> for Vec<T> {
    fn order_by(&mut self, compare: impl Fn(&T, &T) -> Ordering) {
        let compared = |one, other| match (self.get(one), self.get(other)) {
            (Some(one), Some(other)) => compare(one, other),
            _ => Ordering::Equal,
        };
        let order = indices(self.len(), &compared);
        let mut items: Vec<Option<T>> = self.drain(..).map(Some).collect();
        self.extend(order.into_iter().filter_map(|at| items.get_mut(at)?.take()));
    }
}

/// The indices of a list of this length, sorted.
fn indices(length: usize, compare: &dyn Fn(usize, usize) -> Ordering) -> Vec<usize> {
    let mut order: Vec<usize> = (0..length).collect();
    order.sort_by(|one, other| compare(*one, *other));
    order
}
