//! Which rolls fit into one tank, and every way to fill the tank.

/// How much of a tank one roll of a format takes.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Size {
    /// How many parts of the reels the roll takes, of [`Limits::reels`] parts in all.
    pub reels: u64,
    /// The film of the roll, in twelfths of a roll of 80 square inches (R12).
    pub film: u64,
}

/// The limits of a tank.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Limits {
    /// The number of parts into which the reels are divided.
    pub reels: u64,
    /// The most film that the baths can treat, in twelfths of a roll; `None` if they can treat a full tank.
    pub film: Option<u64>,
}

/// The number of rolls of each size.
pub(super) type Counts = Vec<u32>;

/// A tank, and the sizes of the rolls to put into it.
#[derive(Debug, Clone, Copy)]
pub(super) struct Inside<'a> {
    pub(super) sizes: &'a [Size],
    pub(super) limits: Limits,
}

impl Inside<'_> {
    pub(super) fn fits(&self, counts: &[u32]) -> bool {
        let (reels, film) = self.taken(counts);
        reels <= self.limits.reels && self.limits.film.is_none_or(|most| film <= most)
    }

    /// How many more rolls of a size fit into a tank that has the rolls `inside`.
    pub(super) fn more(&self, inside: &[u32], size: usize) -> u32 {
        let (own_reels, own_film) = self.weight(size);
        let (reels, film) = self.taken(inside);
        let by = |most: u64, taken: u64, each: u64| most.saturating_sub(taken).checked_div(each);
        let by_reels = by(self.limits.reels, reels, own_reels).unwrap_or(u64::from(u32::MAX));
        let by_film = self.limits.film.and_then(|most| by(most, film, own_film));
        u32::try_from(by_film.map_or(by_reels, |by_film| by_film.min(by_reels))).unwrap_or(u32::MAX)
    }

    /// The part of the reels, then the film, by which sizes are compared.
    pub(super) fn weight(&self, size: usize) -> (u64, u64) {
        let own = self.sizes.get(size).expect("each size is known");
        (own.reels, own.film)
    }

    /// Every way to fill up a tank that has `inside` with rolls of `rest`, the fullest first. `None` if more than
    /// `most`.
    pub(super) fn fillings(&self, inside: &[u32], rest: &[u32], most: u64) -> Option<Vec<Counts>> {
        let last = rest.len().checked_sub(1)?;
        let mut ways: Vec<Counts> = vec![inside.to_vec()];
        for (size, there) in rest.iter().enumerate() {
            let mut wider = Vec::new();
            for way in &ways {
                let fitting = self.more(way, size).min(*there);
                // Of the last size, as many as fit are added.
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
        full.sort_by_key(|way| std::cmp::Reverse(self.taken(way)));
        Some(full.into_iter().map(|way| minus(&way, inside)).collect())
    }

    pub(super) fn taken(&self, counts: &[u32]) -> (u64, u64) {
        let each = counts.iter().zip(self.sizes).map(|(count, size)| (u64::from(*count), size));
        each.fold((0, 0), |(reels, film), (count, size)| {
            (reels + count * size.reels, film + count * size.film)
        })
    }

    /// The loads if the largest rolls are packed first, each into the first load where it fits. Equal loads are one
    /// entry with their number.
    pub(super) fn largest_first(&self, counts: &[u32]) -> Vec<(Counts, u32)> {
        let mut sizes: Vec<usize> = (0..counts.len()).collect();
        sizes.sort_by_key(|size| std::cmp::Reverse(self.weight(*size)));
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

/// The counts with more rolls of a size.
pub(super) fn plus(counts: &[u32], size: usize, more: u32) -> Counts {
    let mut counts = counts.to_vec();
    *counts.get_mut(size).expect("each size is counted") += more;
    counts
}

pub(super) fn minus(one: &[u32], other: &[u32]) -> Counts {
    one.iter().zip(other).map(|(one, other)| one.saturating_sub(*other)).collect()
}
