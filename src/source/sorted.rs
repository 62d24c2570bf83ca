//! Sorts lists with little machine code. The compiler repeats the standard library's sort for every type and
//! comparison, 6 kB each time. Here that sort exists once, for the indices of a list, and the items are then moved into
//! the order of their indices.

use std::cmp::Ordering;

/// Sorts a list. Equal items keep their order, as in the standard library's stable sort.
pub(crate) trait Sorted<T> {
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

/// The indices from 0 to `length - 1`, sorted by `compare`.
fn indices(length: usize, compare: &dyn Fn(usize, usize) -> Ordering) -> Vec<usize> {
    let mut order: Vec<usize> = (0..length).collect();
    order.sort_by(|one, other| compare(*one, *other));
    order
}
