//! Packs rolls into as few loads as possible, and in the order of exposure if that needs no more loads.
//!
//! Rolls have few sizes, so the search works with the number of rolls of each size. If the search takes too long, the
//! largest rolls are packed first.

use std::collections::{BTreeMap, VecDeque};

use super::tank::{Counts, Inside, minus, plus};
use super::weights::{Weighed, best, plain};

/// The budget of the search for the fewest loads, in steps. A step reads the number of rolls of one size. The search
/// for loads in the order of exposure has a second budget of the same size.
const WORK_MAX: u64 = 1_000_000;
/// If there are more ways than this to fill a tank, the search does not list them.
const FULL_MAX: u64 = 2_000;
/// For each way to fill a tank, `best` says how many tanks to fill in this way. The search tries these numbers, then
/// each less 1, then each less 2: this many tries in all.
const SPARED_MAX: u32 = 3;
const DEPTH_MAX: usize = 300;

/// Loads: the number of rolls of each size in a load, and how many loads have exactly these numbers.
type Loads = Vec<(Counts, u32)>;
/// The result of the search for some rolls: the smallest number of loads found, and the first of these loads. The loads
/// of the remaining rolls are in the result for those rolls. The loads are `None` if packing the largest rolls first
/// gives the same number.
type Found = (usize, Option<Loads>);

/// Finds loads for rolls of the sizes in `inside`.
#[derive(Debug)]
pub struct Packer<'a> {
    inside: Inside<'a>,
    /// Each way to fill a tank; empty if there are more than [`FULL_MAX`] ways.
    full: Vec<Counts>,
    weights: Vec<Weighed>,
    /// The results of the search. The keys are the numbers of rolls of each size that were to be packed.
    known: BTreeMap<Counts, Found>,
    work: u64,
    depth: usize,
    gave_up: bool,
}

impl<'a> Packer<'a> {
    /// A packer for at most this many rolls of each size.
    pub fn of(inside: Inside<'a>, counts: &[u32]) -> Packer<'a> {
        let full = inside.fillings(&vec![0; counts.len()], counts, FULL_MAX);
        let weights = plain(inside, full.as_deref());
        let full = full.unwrap_or_default();
        Packer { inside, full, weights, known: BTreeMap::new(), work: WORK_MAX, depth: 0, gave_up: false }
    }

    /// A lower bound on the number of loads: the greater of the bound by `weights` and, if `full` is not empty, the
    /// bound by the best weights for these rolls.
    pub fn bound(&self, counts: &[u32]) -> usize {
        let by_best = if self.full.is_empty() { 0 } else { best(&self.full, counts).0.tanks(counts) };
        self.plain_bound(counts).max(by_best)
    }

    fn plain_bound(&self, counts: &[u32]) -> usize {
        self.weights.iter().map(|weighed| weighed.tanks(counts)).max().unwrap_or(0)
    }

    /// The number of loads found, and whether it is proven to be the smallest. Each roll alone must fit into the tank.
    pub fn fewest(&mut self, counts: &[u32]) -> (usize, bool) {
        self.reset();
        let fewest = self.count(counts);
        (fewest, !self.gave_up || fewest == self.bound(counts))
    }

    /// Packs rolls. `order` has the size of each roll, in the order of exposure. Each load has indices into `order`.
    pub fn loads(&mut self, order: &[usize]) -> Vec<Vec<usize>> {
        let none = vec![0; self.inside.sizes.len()];
        let left = order.iter().fold(none, |left, size| plus(&left, *size, 1));
        let (fewest, _) = self.fewest(&left);
        let found = self.found(&left);
        self.reset();
        let as_shot = self.as_shot(order, left, fewest);
        as_shot.filter(|loads| loads.len() <= fewest).unwrap_or_else(|| in_line(order, found))
    }

    /// Restores the search budget, and drops the results if the last search used up its budget.
    fn reset(&mut self) {
        if self.gave_up {
            self.known.clear();
        }
        (self.work, self.gave_up) = (WORK_MAX, false);
    }

    /// Fills loads in the order of exposure. A roll waits for a later load if adding it now would need more than `more`
    /// loads in all. `None` if the budget runs out.
    fn as_shot(&mut self, order: &[usize], mut left: Counts, mut more: usize) -> Option<Vec<Vec<usize>>> {
        let none = vec![0; left.len()];
        let mut waiting: Vec<(usize, usize)> = order.iter().copied().enumerate().collect();
        let mut loads = Vec::new();
        while !waiting.is_empty() {
            more = more.saturating_sub(1);
            let (mut load, mut passed) = (Vec::new(), Vec::new());
            let mut inside = none.clone();
            // A size that did not fit is tried again only after another roll was added to the load.
            let mut refused = vec![false; left.len()];
            for (at, size) in waiting {
                if !load.is_empty() && refused.get(size).is_some_and(|refused| *refused) {
                    passed.push((at, size));
                    continue;
                }
                let with = plus(&inside, size, 1);
                let rest = minus(&left, &plus(&none, size, 1));
                // The first roll is always added, so that no load is empty.
                if load.is_empty() || (self.inside.fits(&with) && self.ends_in(&with, &rest, more)?) {
                    (inside, left) = (with, rest);
                    load.push(at);
                    refused.fill(false);
                } else {
                    refused.get_mut(size).into_iter().for_each(|refused| *refused = true);
                    passed.push((at, size));
                }
            }
            loads.push(load);
            waiting = passed;
        }
        Some(loads)
    }

    /// Whether the rolls `rest` fit into a load that already has the rolls `inside`, plus this many further loads;
    /// `None` if the budget runs out.
    fn ends_in(&mut self, inside: &[u32], rest: &[u32], loads: usize) -> Option<bool> {
        if rest.iter().all(|count| *count == 0) {
            return Some(true);
        }
        let fillings = self.fillings(inside, rest)?;
        for filling in &fillings {
            let rest = minus(rest, filling);
            if self.plain_bound(&rest) <= loads && self.count(&rest) <= loads {
                return Some(true);
            }
            if self.gave_up {
                return None;
            }
        }
        Some(false)
    }

    /// The smallest number of loads that the search finds within its budget.
    fn count(&mut self, counts: &[u32]) -> usize {
        if let Some((known, _)) = self.known.get(counts) {
            return *known;
        }
        let sizes = counts.len() as u64;
        self.works(sizes * (self.weights.len() as u64 + 3 * sizes));
        let mut found = (number(&self.inside.largest_first(counts)), None);
        let mut bound = self.plain_bound(counts);
        if found.0 > bound && !self.gave_up {
            self.depth += 1;
            let (by_best, uses) = self.best(counts);
            bound = bound.max(by_best);
            for spared in 0..SPARED_MAX {
                if found.0 > bound && !self.gave_up {
                    found = self.with(counts, self.used(counts, &uses, spared), found);
                }
            }
            if found.0 > bound {
                found = self.tried(counts, bound, found);
            }
            self.depth -= 1;
        }
        let fewest = found.0;
        self.known.insert(counts.to_vec(), found);
        fewest
    }

    /// The lower bound on loads by the best weights for these rolls, and how many tanks to fill in each way of `full`.
    fn best(&mut self, counts: &[u32]) -> (usize, Vec<u32>) {
        if self.full.is_empty() {
            return (0, Vec::new());
        }
        let (sizes, full) = (counts.len() as u64, self.full.len() as u64);
        self.works(full * sizes * 2 * sizes);
        let (weighed, uses) = best(&self.full, counts);
        (weighed.tanks(counts), uses)
    }

    /// The loads if the tanks are filled in each way of `full` as often as `uses` says, less `spared`.
    fn used(&self, counts: &[u32], uses: &[u32], spared: u32) -> Loads {
        let mut left = counts.to_vec();
        let mut used = Vec::new();
        for (way, often) in self.full.iter().zip(uses) {
            let mut often = often.saturating_sub(spared);
            while often > 0 {
                // If too few rolls are left to fill the tank, the partly filled tank can still be the best.
                let load: Counts = way.iter().zip(&left).map(|(count, left)| *count.min(left)).collect();
                let times = left.iter().zip(&load).filter_map(|(left, count)| left.checked_div(*count)).min();
                let Some(times) = times.map(|times| times.min(often)) else { break };
                used.push((load, times));
                left = without(&left, used.last().map_or(&[], std::slice::from_ref));
                often -= times;
            }
        }
        used
    }

    /// `loads` plus the fewest loads for the other rolls, if together they are fewer than the loads in `found`; else
    /// `found`.
    fn with(&mut self, counts: &[u32], loads: Loads, found: Found) -> Found {
        if loads.is_empty() || self.depth > DEPTH_MAX {
            return found;
        }
        let all = number(&loads) + self.count(&without(counts, &loads));
        if all < found.0 { (all, Some(loads)) } else { found }
    }

    fn tried(&mut self, counts: &[u32], bound: usize, mut found: Found) -> Found {
        if self.depth > DEPTH_MAX {
            self.gave_up = true;
            return found;
        }
        // Some load must have one of the largest rolls, so it is enough to try the loads with such a roll.
        let there = (0..counts.len()).filter(|size| counts.get(*size).is_some_and(|count| *count > 0));
        let Some(largest) = there.max_by_key(|size| self.inside.weight(*size)) else { return found };
        let inside = plus(&vec![0; counts.len()], largest, 1);
        let rest = minus(counts, &inside);
        for filling in self.fillings(&inside, &rest).unwrap_or_default() {
            let rest = minus(&rest, &filling);
            if self.plain_bound(&rest) + 1 < found.0 {
                let with = 1 + self.count(&rest);
                if with < found.0 {
                    found = (with, Some(vec![(minus(counts, &rest), 1)]));
                }
            }
            if found.0 == bound || self.gave_up {
                break;
            }
        }
        found
    }

    fn fillings(&mut self, inside: &[u32], rest: &[u32]) -> Option<Vec<Counts>> {
        let sizes = rest.len() as u64;
        let fillings = self.inside.fillings(inside, rest, self.work / sizes.max(1));
        let looked = fillings.as_ref().map_or(self.work, |all| all.len() as u64 * sizes * sizes);
        self.works(looked + sizes);
        fillings
    }

    /// Spends some of the search budget. Once the budget is used up, a result need not be the smallest number of loads.
    fn works(&mut self, much: u64) {
        self.gave_up |= self.work <= much;
        self.work = self.work.saturating_sub(much);
    }

    fn found(&self, counts: &[u32]) -> Loads {
        let mut left = counts.to_vec();
        let mut all = Vec::new();
        while let Some((_, Some(loads))) = self.known.get(&left) {
            left = without(&left, loads);
            all.extend(loads.iter().cloned());
        }
        all.extend(self.inside.largest_first(&left));
        all
    }
}

fn without(counts: &[u32], loads: &[(Counts, u32)]) -> Counts {
    let each = |(load, times): &(Counts, u32)| load.iter().map(|count| count * times).collect::<Counts>();
    loads.iter().fold(counts.to_vec(), |left, load| minus(&left, &each(load)))
}

fn number(loads: &[(Counts, u32)]) -> usize {
    loads.iter().map(|(_, times)| *times as usize).sum()
}

/// Assigns rolls, as indices into `order`, to loads with a fixed number of rolls of each size. Each next load must
/// contain the first roll still waiting. If several loads could contain this roll, the load whose rolls come earliest
/// in `order` is taken.
fn in_line(order: &[usize], mut loads: Loads) -> Vec<Vec<usize>> {
    let sizes = loads.first().map_or(0, |(counts, _)| counts.len());
    let mut lines: Vec<VecDeque<usize>> = vec![VecDeque::new(); sizes];
    for (at, size) in order.iter().enumerate() {
        lines.get_mut(*size).expect("each size has a queue").push_back(at);
    }
    let mut dealt = Vec::new();
    loop {
        let firsts = lines.iter().enumerate().filter_map(|(size, line)| Some((*line.front()?, size)));
        let Some((_, first)) = firsts.min() else { return dealt };
        let fitting = loads
            .iter_mut()
            .filter(|(counts, times)| *times > 0 && counts.get(first).is_some_and(|count| *count > 0));
        let next =
            fitting.map(|load| (places(&lines, &load.0), load)).min_by(|(one, _), (two, _)| one.cmp(two));
        let (mut places, (counts, times)) = next.expect("every roll is in some load");
        places.pop();
        *times -= 1;
        for (line, count) in lines.iter_mut().zip(counts) {
            line.drain(..line.len().min(*count as usize));
        }
        dealt.push(places);
    }
}

/// The sorted indices of a load's rolls, then `usize::MAX`, so that of two loads with the same first rolls, the larger
/// one compares as less.
fn places(lines: &[VecDeque<usize>], counts: &[u32]) -> Vec<usize> {
    let each = lines.iter().zip(counts).flat_map(|(line, count)| line.iter().take(*count as usize));
    let mut places: Vec<usize> = each.copied().collect();
    places.sort_unstable();
    places.push(usize::MAX);
    places
}
