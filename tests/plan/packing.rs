//! Loads compared with an exhaustive search, and what holds for any load.

use proptest::prelude::*;
use wetside::plan::{Limits, Packer, Size};

/// The fewest loads, by trying each roll in each load and in a new one.
fn tried(rolls: &[Size], limits: Limits, loads: &mut Vec<(u64, u64)>, best: &mut usize) {
    if loads.len() >= *best {
        return;
    }
    let Some((roll, rest)) = rolls.split_first() else {
        *best = loads.len();
        return;
    };
    for at in 0..loads.len() {
        let (reels, film) = loads[at];
        if reels + roll.reels <= limits.reels && limits.film.is_none_or(|most| film + roll.film <= most) {
            loads[at] = (reels + roll.reels, film + roll.film);
            tried(rest, limits, loads, best);
            loads[at] = (reels, film);
        }
    }
    loads.push((roll.reels, roll.film));
    tried(rest, limits, loads, best);
    loads.pop();
}

/// A tank, sizes that each fit into it, and the size of each roll in the order they were shot.
fn cases() -> impl Strategy<Value = (Limits, Vec<Size>, Vec<usize>)> {
    let size = (1u64..=40, prop::sample::select(vec![3u64, 8, 12, 24]));
    (
        prop::collection::vec(size, 1..=3),
        prop::option::of(24u64..=60),
        prop::collection::vec(0usize..3, 1..=8),
    )
        .prop_map(|(sizes, film, order)| {
            let sizes: Vec<Size> = sizes.into_iter().map(|(reels, film)| Size { reels, film }).collect();
            let order = order.into_iter().map(|size| size % sizes.len()).collect();
            (Limits { reels: 40, film }, sizes, order)
        })
}

fn counts(sizes: &[Size], order: &[usize]) -> Vec<u32> {
    let count = |size| order.iter().filter(|own| **own == size).count();
    (0..sizes.len()).map(|size| u32::try_from(count(size)).unwrap()).collect()
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 2_000, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn the_loads_are_as_few_as_an_exhaustive_search_finds((limits, sizes, order) in cases()) {
        let counts = counts(&sizes, &order);
        let mut packer = Packer::of(&sizes, limits, &counts);
        let rolls: Vec<Size> = order.iter().map(|size| sizes[*size]).collect();
        let mut best = rolls.len() + 1;
        tried(&rolls, limits, &mut Vec::new(), &mut best);
        prop_assert_eq!(packer.fewest(&counts), (best, true));
        prop_assert_eq!(packer.loads(&order).len(), best);
        prop_assert!(packer.bound(&counts) <= best);
    }

    #[test]
    fn every_roll_is_in_one_load_and_every_load_fits((limits, sizes, order) in cases()) {
        let mut packer = Packer::of(&sizes, limits, &counts(&sizes, &order));
        let loads = packer.loads(&order);
        let mut all: Vec<usize> = loads.concat();
        all.sort_unstable();
        prop_assert_eq!(all, (0..order.len()).collect::<Vec<_>>());
        for load in &loads {
            let own: Vec<Size> = load.iter().map(|at| sizes[order[*at]]).collect();
            prop_assert!(own.iter().map(|size| size.reels).sum::<u64>() <= limits.reels);
            let film = own.iter().map(|size| size.film).sum::<u64>();
            prop_assert!(limits.film.is_none_or(|most| film <= most));
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
    let sizes: Vec<Size> = [8, 5, 10, 7].map(|reels| Size { reels, film: 12 }).to_vec();
    let order: Vec<usize> = (0..400).map(|at| at * 7 % 4).collect();
    let counts = counts(&sizes, &order);
    let mut packer = Packer::of(&sizes, Limits { reels: 40, film: None }, &counts);
    assert_eq!((packer.bound(&counts), packer.fewest(&counts)), (75, (75, true)));
    assert_eq!(packer.loads(&order).len(), 75);
}

/// 539 rolls, each on one of five reels, are 107.8 tanks.
#[test]
fn two_formats_of_one_share_pack_as_one() {
    let sizes = [Size { reels: 1, film: 12 }, Size { reels: 1, film: 24 }];
    let order: Vec<usize> = (0..539).map(|at| usize::from(at % 9 > 1)).collect();
    let counts = counts(&sizes, &order);
    assert_eq!(counts, [120, 419]);
    let mut packer = Packer::of(&sizes, Limits { reels: 5, film: None }, &counts);
    assert_eq!((packer.fewest(&counts), packer.loads(&order).len()), ((108, true), 108));
}
