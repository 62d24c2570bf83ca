//! How often the interval of a time holds the true time, over a thousand generated trials of each kind. The laws and the
//! errors are drawn from a stated generator; the true time comes from the law by its definition, not from the program.

use wetside::trial::{Strip, Times};

/// SplitMix64, by Sebastiano Vigna, and the sum of twelve uniform numbers as a normal one.
struct Random(u64);

impl Random {
    fn uniform(&mut self) -> f64 {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        ((z ^ (z >> 31)) >> 11) as f64 / (1_u64 << 53) as f64
    }

    fn between(&mut self, low: f64, high: f64) -> f64 {
        low + (high - low) * self.uniform()
    }

    fn normal(&mut self) -> f64 {
        (0..12).map(|_| self.uniform()).sum::<f64>() - 6.0
    }
}

/// The five times that a plan proposes, in a ratio of about 1.4.
const TIMES: [f64; 5] = [4.0, 5.5, 8.0, 11.0, 15.0];
/// The error of a contrast, as stated.
const READING: f64 = 0.01;

/// The share of a thousand trials whose interval holds the true time for a contrast of 0.57. `contrast` is the true
/// contrast after a time; `spoil` changes the strips of a trial.
fn covered(
    seed: u64,
    mut law: impl FnMut(&mut Random) -> Box<dyn Fn(f64) -> f64>,
    mut spoil: impl FnMut(&mut Random, &dyn Fn(f64) -> f64) -> Vec<f64>,
) -> f64 {
    let mut random = Random(seed);
    let (mut held, mut asked) = (0, 0);
    while asked < 1000 {
        let law = law(&mut random);
        let contrasts = spoil(&mut random, &*law);
        let strip = |(minutes, contrast): (&f64, &f64)| Strip {
            minutes: *minutes,
            celsius: 20.0,
            contrast: *contrast,
        };
        let strips: Vec<Strip> = TIMES.iter().zip(&contrasts).map(strip).collect();
        let Ok(answer) = Times::new(strips, READING).minutes(0.57, 20.0, false) else { continue };
        // The true time, by halving.
        let (mut low, mut high) = (0.0, 60.0);
        for _ in 0..60 {
            let middle = 0.5 * (low + high);
            if law(middle) < 0.57 { low = middle } else { high = middle }
        }
        asked += 1;
        held += u32::from((answer.minutes - low).abs() <= answer.half_width);
    }
    f64::from(held) / 1000.0
}

fn exponential(random: &mut Random) -> Box<dyn Fn(f64) -> f64> {
    let (limit, rate, start) =
        (random.between(0.85, 1.15), random.between(0.10, 0.20), random.between(0.0, 1.0));
    Box::new(
        move |minutes| if minutes > start { limit * (1.0 - (-rate * (minutes - start)).exp()) } else { 0.0 },
    )
}

/// A curve that is no exponential: it begins slowly and bends later, as 1 - 1/(1 + (t/T)^p).
fn another_curve(random: &mut Random) -> Box<dyn Fn(f64) -> f64> {
    let (limit, half, power) =
        (random.between(0.95, 1.25), random.between(4.5, 7.0), random.between(1.1, 1.6));
    Box::new(move |minutes| limit * (1.0 - 1.0 / (1.0 + (minutes / half).powf(power))))
}

fn read(random: &mut Random, law: &dyn Fn(f64) -> f64, error: f64) -> Vec<f64> {
    TIMES.iter().map(|minutes| law(*minutes) + error * random.normal()).collect()
}

#[test]
fn the_interval_holds_the_true_time_of_the_law() {
    for (error, seed) in [(0.5, 1), (1.0, 2), (2.0, 3)] {
        let held = covered(seed, exponential, |random, law| read(random, law, error * READING));
        assert!(held >= 0.90, "{held} with {error} times the stated error");
    }
}

/// Half of the band that holds 16 to 84 % of the times for 0.57, as a share of the time, by the number of strips; worked
/// outside of the program with 150 trials each: 2.2, 1.8, 1.6 and, with each of the five times twice, 1.3 %. The band of
/// 150 trials is itself sure to a tenth.
#[test]
fn more_strips_find_the_time_more_closely() {
    let five = [4.0, 5.5, 8.0, 11.0, 15.0];
    let twice: Vec<f64> = five.iter().flat_map(|minutes| [*minutes, *minutes]).collect();
    let plans: [(&[f64], f64); 4] =
        [(&[4.0, 7.0, 12.0], 0.022), (&[4.0, 6.0, 9.0, 13.0], 0.018), (&five, 0.016), (&twice, 0.013)];
    let mut random = Random(7);
    for (plan, spread) in plans {
        let mut times: Vec<f64> = (0..2000)
            .filter_map(|_| {
                let strip = |minutes: &f64| Strip {
                    minutes: *minutes,
                    celsius: 20.0,
                    contrast: 1.02 * (1.0 - (-0.135 * (minutes - 0.5)).exp()) + READING * random.normal(),
                };
                let strips: Vec<Strip> = plan.iter().map(strip).collect();
                Some(Times::new(strips, READING).minutes(0.57, 20.0, false).ok()?.minutes)
            })
            .collect();
        times.sort_by(f64::total_cmp);
        let at = |percent: usize| times[percent * times.len() / 100];
        let half = (at(84) - at(16)) / 2.0 / at(50);
        assert!((half / spread - 1.0).abs() < 0.25, "{half} for {plan:?}, not {spread}");
    }
}

/// The thermometer is off by the same 0.17 °C (0.3 °C, evenly) in all strips, at 2.5 per 10 °C.
#[test]
fn a_shared_offset_of_the_thermometer_leaves_four_of_five() {
    let held = covered(4, exponential, |random, law| {
        let quicker = 2.5_f64.powf(random.between(-0.3, 0.3) / 10.0);
        read(random, &|minutes| law(minutes * quicker), READING)
    });
    assert!(held >= 0.80, "{held}");
}

#[test]
fn one_outlier_of_a_tenth_leaves_four_of_five() {
    let held = covered(5, exponential, |random, law| {
        let mut contrasts = read(random, law, READING);
        let spoilt = random.uniform() * 5.0;
        let at = (1..5).filter(|at| f64::from(*at) <= spoilt).count();
        contrasts[at] *= if random.uniform() < 0.5 { 0.9 } else { 1.1 };
        contrasts
    });
    assert!(held >= 0.80, "{held}");
}

#[test]
fn a_curve_that_is_no_exponential_leaves_four_of_five() {
    let held = covered(6, another_curve, |random, law| read(random, law, READING));
    assert!(held >= 0.80, "{held}");
}
