//! The law of contrast against time is that of scipy, to four digits. `reference.py` wrote `fits.txt`.

use wetside::trial::{Fit, Strip, Times};

#[derive(Default)]
struct Set {
    name: String,
    reading: f64,
    strips: Vec<Strip>,
    found: Vec<(String, Vec<f64>)>,
}

fn sets() -> Vec<Set> {
    let mut sets: Vec<Set> = Vec::new();
    for line in include_str!("fits.txt").lines().filter(|line| !line.starts_with('#')) {
        let mut words = line.split(' ');
        let word = words.next().unwrap();
        if word == "set" {
            let name = words.next().unwrap().to_owned();
            let reading = words.next().unwrap().parse().unwrap();
            sets.push(Set { name, reading, ..Set::default() });
            continue;
        }
        let numbers: Vec<f64> = words.map(|word| word.parse().unwrap()).collect();
        let set = sets.last_mut().unwrap();
        match (word, &*numbers) {
            ("strip", [minutes, celsius, contrast]) => {
                set.strips.push(Strip { minutes: *minutes, celsius: *celsius, contrast: *contrast });
            }
            _ => set.found.push((word.to_owned(), numbers)),
        }
    }
    sets
}

/// Equal to four digits, or to half a unit of the last digit in the file.
#[track_caller]
fn same(set: &Set, what: &str, own: f64, scipy: f64) {
    let near = (own - scipy).abs() <= 1e-4 * scipy.abs() + 6e-6;
    assert!(near, "{} {what}: {own}, scipy {scipy}", set.name);
}

#[test]
fn the_law_is_that_of_scipy() {
    let sets = sets();
    assert_eq!(sets.len(), 6);
    for set in &sets {
        let fit = Fit::of(&set.strips).unwrap_or_else(|why| panic!("{}: {why:?}", set.name));
        let times = Times::new(set.strips.clone(), set.reading);
        for (what, numbers) in &set.found {
            match (&**what, &**numbers) {
                ("limit", [limit]) => same(set, what, fit.law.limit, *limit),
                ("rate", [rate]) => same(set, what, fit.law.rate, *rate),
                ("start", [start]) => same(set, what, fit.law.start, *start),
                ("scatter", [scatter]) => same(set, what, fit.scatter, *scatter),
                ("factor", [low, best, high]) => {
                    same(set, what, fit.law.factor.unwrap(), *best);
                    let range = times.factor_range().unwrap();
                    same(set, "factor low", range.0, *low);
                    same(set, "factor high", range.1, *high);
                }
                ("time", [contrast, celsius, minutes, half_width]) => {
                    let answer = times.minutes(*contrast, *celsius, false).unwrap();
                    same(set, what, answer.minutes, *minutes);
                    same(set, "half width", answer.half_width, *half_width);
                }
                _ => panic!("unknown line {what} {numbers:?}"),
            }
        }
    }
}
