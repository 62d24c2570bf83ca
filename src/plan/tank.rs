//! Which rolls fit into one tank, and every way to fill the tank.

use std::fmt::{Debug, Formatter, Result};

use crate::source::Sorted as _;

/// The number of rolls of each size.
pub type Counts = Vec<u32>;

/// A tank, and the sizes of the rolls to put into it.
#[derive(Clone, Copy)]
pub struct Inside<'a> {
    /// How many parts of the tank a roll of each size takes. A tank for two rolls of 120 or three of 135 has 6 parts; a
    /// roll of 120 takes 3 of them, and a roll of 135 takes 2.
    pub sizes: &'a [u64],
    /// The number of parts of the whole tank.
    pub reels: u64,
    /// Whether the baths cover these rolls, and are enough to treat them. Baths that are enough for a load are enough
    /// for fewer rolls of it.
    pub treats: &'a dyn Fn(&[u32]) -> bool,
}

impl Debug for Inside<'_> {
    fn fmt(&self, out: &mut Formatter<'_>) -> Result {
        write!(out, "{:?} of {} parts", self.sizes, self.reels)
    }
}

impl Inside<'_> {
    pub(super) fn fits(&self, counts: &[u32]) -> bool {
        self.taken(counts) <= self.reels && (self.treats)(counts)
    }

    /// How many more rolls of a size fit into a tank that already has the rolls `inside`.
    pub(super) fn more(&self, inside: &[u32], size: usize) -> u32 {
        let free = self.reels.saturating_sub(self.taken(inside));
        let most = u32::try_from(free.checked_div(self.weight(size)).unwrap_or(u64::MAX)).unwrap_or(u32::MAX);
        // Usually the reels are the only limit. Else a binary search finds the most rolls that the baths can treat.
        if most == 0 || (self.treats)(&plus(inside, size, most)) {
            return most;
        }
        let (mut fits, mut exceeds) = (0, most);
        while exceeds - fits > 1 {
            let middle = fits + (exceeds - fits) / 2;
            if (self.treats)(&plus(inside, size, middle)) { fits = middle } else { exceeds = middle }
        }
        fits
    }

    pub(super) fn weight(&self, size: usize) -> u64 {
        *self.sizes.get(size).expect("each size is known")
    }

    /// Every way to fill up a tank, which already has the rolls `inside`, with rolls of `rest`. The fullest way comes
    /// first. `None` if there are more than `most` ways.
    pub(super) fn fillings(&self, inside: &[u32], rest: &[u32], most: u64) -> Option<Vec<Counts>> {
        let last = rest.len().checked_sub(1)?;
        let mut ways: Vec<Counts> = vec![inside.to_vec()];
        for (size, there) in rest.iter().enumerate() {
            let mut wider = Vec::new();
            for way in &ways {
                let fitting = self.more(way, size).min(*there);
                // The last size fills up the tank, so only the largest number that fits is tried.
                let least = if size == last { fitting } else { 0 };
                for count in (least..=fitting).rev() {
                    wider.push(plus(way, size, count));
                }
                if wider.len() as u64 > most {
                    return None;
                }
            }
            ways = wider;
        }
        let is_full = |way: &Counts| {
            let used = minus(way, inside);
            let mut sizes = rest.iter().zip(used).enumerate();
            sizes.all(|(size, (there, used))| used >= *there || self.more(way, size) == 0)
        };
        let mut full: Vec<Counts> = ways.into_iter().filter(is_full).collect();
        full.order_by_key(|way| std::cmp::Reverse(self.taken(way)));
        Some(full.into_iter().map(|way| minus(&way, inside)).collect())
    }

    fn taken(&self, counts: &[u32]) -> u64 {
        counts.iter().zip(self.sizes).map(|(count, size)| u64::from(*count) * size).sum()
    }

    /// The loads if the largest rolls are packed first, each roll into the first load where it fits. An entry is a load
    /// and the number of loads that are equal to it.
    pub(super) fn largest_first(&self, counts: &[u32]) -> Vec<(Counts, u32)> {
        let mut sizes: Vec<usize> = (0..counts.len()).collect();
        sizes.order_by_key(|size| std::cmp::Reverse(self.weight(*size)));
        let mut loads: Vec<(Counts, u32)> = Vec::new();
        for size in sizes {
            let mut left = *counts.get(size).expect("each size is counted");
            let mut fuller = Vec::new();
            for (load, times) in loads {
                let each = self.more(&load, size);
                let whole = left.checked_div(each).map_or(0, |whole| whole.min(times));
                let over = if whole < times { (left - whole * each).min(each) } else { 0 };
                let some = u32::from(over > 0);
                let groups = [
                    (plus(&load, size, each), whole),
                    (plus(&load, size, over), some),
                    (load, times - whole - some),
                ];
                fuller.extend(groups.into_iter().filter(|(_, times)| *times > 0));
                left -= whole * each + over;
            }
            loads = fuller;
            let empty = vec![0; counts.len()];
            // A roll that is too large for the tank still gets a load.
            let each = self.more(&empty, size).max(1);
            let (whole, over) = (left / each, left % each);
            for (count, times) in [(each, whole), (over, u32::from(over > 0))] {
                loads.extend((times > 0).then(|| (plus(&empty, size, count), times)));
            }
        }
        loads
    }
}

pub(super) fn plus(counts: &[u32], size: usize, more: u32) -> Counts {
    let mut counts = counts.to_vec();
    *counts.get_mut(size).expect("each size is counted") += more;
    counts
}

pub(super) fn minus(one: &[u32], other: &[u32]) -> Counts {
    one.iter().zip(other).map(|(one, other)| one.saturating_sub(*other)).collect()
}
