//! Loads compared with an exhaustive search, and what holds for any load.

use proptest::prelude::*;
use wetside::plan::{Inside, Packer};

/// A roll: the part of the reels and the film that it takes.
type Size = (u64, u64);

/// All reels, in parts, and the most film.
const REELS: u64 = 40;
type Most = Option<u64>;

fn fits(rolls: &[Size], most: Most) -> bool {
    let sum = |of: fn(&Size) -> u64| rolls.iter().map(of).sum::<u64>();
    sum(|size| size.0) <= REELS && most.is_none_or(|most| sum(|size| size.1) <= most)
}

/// The fewest loads, by trying each roll in each load and in a new one.
fn tried(rolls: &[Size], most: Most, loads: &mut Vec<Vec<Size>>, best: &mut usize) {
    if loads.len() >= *best {
        return;
    }
    let Some((roll, rest)) = rolls.split_first() else {
        *best = loads.len();
        return;
    };
    for at in 0..loads.len() {
        loads[at].push(*roll);
        if fits(&loads[at], most) {
            tried(rest, most, loads, best);
        }
        loads[at].pop();
    }
    loads.push(vec![*roll]);
    tried(rest, most, loads, best);
    loads.pop();
}

/// The most film, sizes that each fit into the tank, and the size of each roll in the order they were shot.
fn cases() -> impl Strategy<Value = (Most, Vec<Size>, Vec<usize>)> {
    let size = (1u64..=REELS, prop::sample::select(vec![3u64, 8, 12, 24]));
    (
        prop::option::of(24u64..=60),
        prop::collection::vec(size, 1..=3),
        prop::collection::vec(0usize..3, 1..=8),
    )
        .prop_map(|(most, sizes, order)| {
            let order = order.into_iter().map(|size| size % sizes.len()).collect();
            (most, sizes, order)
        })
}

fn counts(sizes: usize, order: &[usize]) -> Vec<u32> {
    let count = |size| order.iter().filter(|own| **own == size).count();
    (0..sizes).map(|size| u32::try_from(count(size)).unwrap()).collect()
}

/// Calls `f` with a packer for a tank that takes this much film.
fn packed<T>(most: Most, sizes: &[Size], counts: &[u32], f: impl FnOnce(&mut Packer<'_>) -> T) -> T {
    let treats = |counts: &[u32]| {
        let film: u64 = counts.iter().zip(sizes).map(|(count, size)| u64::from(*count) * size.1).sum();
        most.is_none_or(|most| film <= most)
    };
    let parts: Vec<u64> = sizes.iter().map(|size| size.0).collect();
    f(&mut Packer::of(Inside { sizes: &parts, reels: REELS, treats: &treats }, counts))
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 2_000, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn the_loads_are_as_few_as_an_exhaustive_search_finds((most, sizes, order) in cases()) {
        let counts = counts(sizes.len(), &order);
        let rolls: Vec<Size> = order.iter().map(|size| sizes[*size]).collect();
        let mut best = rolls.len() + 1;
        tried(&rolls, most, &mut Vec::new(), &mut best);
        packed(most, &sizes, &counts, |packer| {
            prop_assert_eq!(packer.fewest(&counts), (best, true));
            prop_assert_eq!(packer.loads(&order).len(), best);
            prop_assert!(packer.bound(&counts) <= best);
            Ok(())
        })?;
    }

    #[test]
    fn every_roll_is_in_one_load_and_every_load_fits((most, sizes, order) in cases()) {
        let loads = packed(most, &sizes, &counts(sizes.len(), &order), |packer| packer.loads(&order));
        let mut all: Vec<usize> = loads.concat();
        all.sort_unstable();
        prop_assert_eq!(all, (0..order.len()).collect::<Vec<_>>());
        for load in &loads {
            let own: Vec<Size> = load.iter().map(|at| sizes[order[*at]]).collect();
            prop_assert!(fits(&own, most));
        }
        // Each load begins with the first that still waits, and goes on in the order of the film.
        let firsts: Vec<usize> = loads.iter().map(|load| load[0]).collect();
        prop_assert!(firsts.is_sorted() && loads.iter().all(|load| load.is_sorted()));
    }
}

/// A hundred each of 8, 5, 10 and 7 are 3000 parts, and 40 are in a tank: 75 at the least. Tanks of 8 + 5 + 10 + 10 + 7
/// and of 8 + 5 + 5 + 5 + 10 + 7 are full to the last part, so 75 can do.
#[test]
fn many_rolls_of_several_sizes_reach_the_bound() {
    let sizes = [8, 5, 10, 7].map(|reels| (reels, 12));
    let order: Vec<usize> = (0..400).map(|at| at * 7 % 4).collect();
    let counts = counts(sizes.len(), &order);
    packed(None, &sizes, &counts, |packer| {
        assert_eq!((packer.bound(&counts), packer.fewest(&counts)), (75, (75, true)));
        assert_eq!(packer.loads(&order).len(), 75);
    });
}

/// 539 rolls, each on one of five reels, are 107.8 tanks.
#[test]
fn two_formats_of_one_share_pack_as_one() {
    let order: Vec<usize> = (0..539).map(|at| usize::from(at % 9 > 1)).collect();
    let counts = counts(2, &order);
    assert_eq!(counts, [120, 419]);
    packed(None, &[(8, 12), (8, 24)], &counts, |packer| {
        assert_eq!((packer.fewest(&counts), packer.loads(&order).len()), ((108, true), 108));
    });
}
