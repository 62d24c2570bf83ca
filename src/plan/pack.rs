//! How rolls go into as few loads as can be, in the order in which they were shot as far as that costs no
//! load. A roll is of a size, the sizes are few, and so the fewest loads are found by trying: which counts
//! can stand in one tank, and how many tanks the rest then takes. Where that would be too much, what fits
//! is put in, the largest first, and the bound below tells how far from the fewest that can be.

use std::collections::BTreeMap;

/// So many counts are looked at before it is given up to find the very fewest.
const TRIED_MAX: usize = 20_000;

/// What one roll takes of a tank.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Size {
    /// Its share of the reels, in parts of [`Room::reels`].
    pub reels: u64,
    /// Its film, in twelfths of a roll (R12).
    pub film: u64,
}

/// What a tank has.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Room {
    /// The whole of its reels.
    pub reels: u64,
    /// The most film that its baths are enough for, in twelfths of a roll; `None` where the reels decide.
    pub film: Option<u64>,
}

/// Finds loads for rolls of these sizes.
#[derive(Debug)]
pub struct Packer<'a> {
    sizes: &'a [Size],
    room: Room,
    known: BTreeMap<Vec<u32>, usize>,
    exact: bool,
}

impl<'a> Packer<'a> {
    /// For so many rolls of each size.
    #[must_use]
    pub fn of(sizes: &'a [Size], room: Room, counts: &[u32]) -> Packer<'a> {
        let states = counts.iter().try_fold(1usize, |all, count| all.checked_mul(*count as usize + 1));
        let exact = states.is_some_and(|states| states <= TRIED_MAX);
        Packer { sizes, room, known: BTreeMap::new(), exact }
    }

    /// Whether [`Packer::fewest`] finds the very fewest loads.
    #[must_use]
    pub fn is_exact(&self) -> bool {
        self.exact
    }

    /// No fewer loads than this can do: what the rolls take in all, and the room of one tank.
    #[must_use]
    pub fn bound(&self, counts: &[u32]) -> usize {
        let (reels, film) = self.taken(counts);
        let loads = |taken: u64, room: u64| taken.div_ceil(room.max(1));
        let by_film = self.room.film.map_or(0, |room| loads(film, room));
        usize::try_from(loads(reels, self.room.reels).max(by_film)).unwrap_or(usize::MAX)
    }

    /// How many loads they take; each roll must fit alone.
    pub fn fewest(&mut self, counts: &[u32]) -> usize {
        if counts.iter().all(|count| *count == 0) {
            return 0;
        }
        if let Some(known) = self.known.get(counts) {
            return *known;
        }
        let bound = self.bound(counts);
        let by_size = self.largest_first(counts);
        let fewest =
            if by_size == bound || !self.exact { by_size } else { self.tried(counts, bound, by_size) };
        self.known.insert(counts.to_vec(), fewest);
        fewest
    }

    /// The loads of these rolls, each as the places of its rolls in `order`, which has the size of each.
    pub fn loads(&mut self, order: &[usize]) -> Vec<Vec<usize>> {
        let mut left = vec![0u32; self.sizes.len()];
        order.iter().for_each(|size| add(&mut left, *size));
        let mut more = self.fewest(&left);
        let mut waiting: Vec<(usize, usize)> = order.iter().copied().enumerate().collect();
        let mut loads = Vec::new();
        while !waiting.is_empty() {
            more = more.saturating_sub(1);
            let (mut load, mut passed) = (Vec::new(), Vec::new());
            let mut inside = vec![0u32; self.sizes.len()];
            for (at, size) in waiting {
                let (mut with, mut rest) = (inside.clone(), left.clone());
                add(&mut with, size);
                take(&mut rest, size);
                // The first in line always goes, so that every load has one.
                if load.is_empty() || (self.fits(&with) && self.ends_in(&with, &rest, more)) {
                    (inside, left) = (with, rest);
                    load.push(at);
                } else {
                    passed.push((at, size));
                }
            }
            loads.push(load);
            waiting = passed;
        }
        loads
    }

    /// Whether the rest goes into so many loads, once this one is filled up in the best way.
    fn ends_in(&mut self, inside: &[u32], rest: &[u32], loads: usize) -> bool {
        if rest.iter().all(|count| *count == 0) {
            return true;
        }
        self.fillings(inside, rest).iter().any(|filling| self.fewest(&minus(rest, filling)) <= loads)
    }

    fn tried(&mut self, counts: &[u32], bound: usize, known: usize) -> usize {
        // Some load has one of the largest that there are, so only those need be tried first.
        let largest = (0..counts.len()).filter(|at| counts.get(*at).is_some_and(|count| *count > 0));
        let largest = largest.max_by_key(|at| self.sizes.get(*at).map(|size| (size.reels, size.film)));
        let Some(largest) = largest else { return 0 };
        let (mut inside, mut rest) = (vec![0u32; counts.len()], counts.to_vec());
        add(&mut inside, largest);
        take(&mut rest, largest);
        let mut best = known;
        for filling in self.fillings(&inside, &rest) {
            best = best.min(1 + self.fewest(&minus(&rest, &filling)));
            if best == bound {
                break;
            }
        }
        best
    }

    /// Every way to fill a load up from what is left, to which nothing more can be added.
    fn fillings(&self, inside: &[u32], rest: &[u32]) -> Vec<Vec<u32>> {
        let mut ways = vec![vec![0u32; rest.len()]];
        for (size, there) in rest.iter().enumerate() {
            let mut wider = Vec::new();
            for way in &ways {
                let mut more = way.clone();
                for _ in 0..=*there {
                    if !self.fits(&plus(inside, &more)) {
                        break;
                    }
                    wider.push(more.clone());
                    add(&mut more, size);
                }
            }
            ways = wider;
        }
        ways.retain(|way| {
            let full = |(size, there): (usize, &u32)| {
                let mut more = way.clone();
                add(&mut more, size);
                more.get(size).is_some_and(|count| count > there) || !self.fits(&plus(inside, &more))
            };
            rest.iter().enumerate().all(full)
        });
        ways
    }

    /// How many loads it takes to put the largest in first, each wherever it fits.
    fn largest_first(&self, counts: &[u32]) -> usize {
        let mut sizes: Vec<usize> = (0..counts.len()).collect();
        sizes.sort_by_key(|at| std::cmp::Reverse(self.sizes.get(*at).map(|size| (size.reels, size.film))));
        let mut loads: Vec<Vec<u32>> = Vec::new();
        for size in sizes {
            for _ in 0..counts.get(size).copied().unwrap_or(0) {
                let fitting = loads.iter_mut().find(|load| {
                    let mut with = (*load).clone();
                    add(&mut with, size);
                    self.fits(&with)
                });
                match fitting {
                    Some(load) => add(load, size),
                    None => {
                        let mut load = vec![0u32; counts.len()];
                        add(&mut load, size);
                        loads.push(load);
                    }
                }
            }
        }
        loads.len()
    }

    fn fits(&self, counts: &[u32]) -> bool {
        let (reels, film) = self.taken(counts);
        reels <= self.room.reels && self.room.film.is_none_or(|room| film <= room)
    }

    fn taken(&self, counts: &[u32]) -> (u64, u64) {
        let each = counts.iter().zip(self.sizes).map(|(count, size)| (u64::from(*count), size));
        each.fold((0, 0), |(reels, film), (count, size)| {
            (reels + count * size.reels, film + count * size.film)
        })
    }
}

fn add(counts: &mut [u32], size: usize) {
    counts.get_mut(size).into_iter().for_each(|count| *count += 1);
}

fn take(counts: &mut [u32], size: usize) {
    counts.get_mut(size).into_iter().for_each(|count| *count = count.saturating_sub(1));
}

fn plus(one: &[u32], other: &[u32]) -> Vec<u32> {
    one.iter().zip(other).map(|(one, other)| one + other).collect()
}

fn minus(one: &[u32], other: &[u32]) -> Vec<u32> {
    one.iter().zip(other).map(|(one, other)| one.saturating_sub(*other)).collect()
}
