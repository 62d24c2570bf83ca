//! Worked examples, each calculated by hand in its comment. The film data are invented. Straight lines between the steps
//! differ from the curve by 0.02 in the logarithm of exposure, 0.01 in a gradient and 0.006 in a contrast index.

use wetside::trial::{
    Basis, Curve, Fit, NoFit, NoTime, OffScale, STOP, Scale, Strip, Times, contrast_for, pooled,
};

/// The densities of 21 steps of 0.15, from the least exposure.
const DENSITIES: [f64; 21] = [
    0.28, 0.29, 0.29, 0.30, 0.32, 0.34, 0.39, 0.45, 0.51, 0.60, 0.69, 0.78, 0.88, 0.97, 1.07, 1.17, 1.26,
    1.36, 1.45, 1.55, 1.64,
];
const FOG: f64 = 0.28;

fn steps() -> Vec<(f64, f64)> {
    DENSITIES.iter().enumerate().map(|(at, density)| (-3.05 + 0.15 * at as f64, *density)).collect()
}

fn curve() -> Curve {
    Curve::new(&steps(), FOG).unwrap()
}

#[track_caller]
fn near(own: f64, hand: f64, within: f64) {
    assert!((own - hand).abs() <= within, "{own} is not within {within} of {hand}");
}

fn strips(of: &[(f64, f64)]) -> Vec<Strip> {
    of.iter()
        .map(|(minutes, contrast)| Strip { minutes: *minutes, celsius: 20.0, contrast: *contrast })
        .collect()
}

/// 0.38 lies between 0.34 at -2.30 and 0.39 at -2.15: -2.30 + 0.15 x 0.04/0.05 = -2.180.
#[test]
fn the_speed_point_is_at_a_net_density_of_a_tenth() {
    near(curve().speed_point().unwrap(), -2.180, 0.02);
    assert_eq!(Curve::new(&steps()[9..], FOG).unwrap().speed_point(), None, "the first step is denser");
}

/// At -2.180 + 1.30 = -0.880: 1.07 + 0.10 x 0.07/0.15 = 1.1167, less 0.38.
#[test]
fn the_rise_over_the_standards_range() {
    near(curve().rise(1.30).unwrap(), 0.7367, 0.01);
}

/// 0.34 at -2.30 and 0.39 at -2.15 rise by 0.05/0.15 = 0.333. Densities that are off by 0.01, against fog that was read
/// three times, are off by 0.0115: 0.0115/0.333 = 0.035 in the logarithm, 0.115 of a stop.
#[test]
fn the_slope_at_the_speed_point() {
    near(curve().slope_at_speed_point().unwrap(), 0.333, 0.04);
}

/// A step that was read twice, 0.36 and 0.42, counts as 0.39, and twice as much where densities are pooled: 0.40 before
/// it and 0.37, 0.37 make (0.40 + 2 x 0.37)/3 = 0.38.
#[test]
fn a_step_that_was_read_twice_counts_as_its_mean() {
    let twice: Vec<(f64, f64)> =
        steps().into_iter().flat_map(|(x, y)| [(x, y - 0.03), (x, y + 0.03)]).collect();
    near(Curve::new(&twice, FOG).unwrap().speed_point().unwrap(), curve().speed_point().unwrap(), 1e-9);
    let fallen = [(0.0, 0.30), (0.3, 0.40), (0.6, 0.36), (0.6, 0.38), (0.9, 0.60)];
    near(Curve::new(&fallen, 0.3).unwrap().density(0.6).unwrap(), 0.38, 1e-9);
    assert_eq!(Curve::new(&[(0.0, 0.3), (0.0, 0.4), (0.3, 0.5)], 0.3), None, "two exposures");
}

/// Over 1.50: at -0.680, 1.17 + 0.09 x 0.8 = 1.242, so 0.862/1.5. Over seven stops, 2.1072: at -0.0728 the density is
/// 1.6263, so 1.2463/2.1072.
#[test]
fn the_average_gradient() {
    near(curve().gradient(1.50).unwrap(), 0.5747, 0.01);
    near(curve().gradient(7.0 * STOP).unwrap(), 0.5915, 0.01);
    assert_eq!(curve().gradient(3.0), None, "past the last step");
}

/// A line that starts at -2.3500 on the level of the fog, at 30.293 degrees, cuts the curve at (-2.1773, 0.3809), which
/// is 0.2 away, and at (-0.4504, 1.3897), which is 2.2 away: tan 30.293 = 0.5842.
#[test]
fn the_contrast_index() {
    near(curve().contrast_index().unwrap(), 0.5842, 0.006);
    // Up to -0.65 there is no second cut, and no other line has both.
    assert_eq!(Curve::new(&steps()[..17], FOG).unwrap().contrast_index(), None);
}

/// Steps 10 to 21 by least squares: 0.6350.
#[test]
fn gamma_is_the_slope_of_the_straight_part() {
    near(curve().gamma().unwrap(), 0.6350, 0.002);
}

/// The straight line of slope 0.7 has this slope by every definition but the index, whose arcs both cut the line.
#[test]
fn a_straight_line_has_one_slope() {
    let line: Vec<(f64, f64)> =
        (0..=20).map(|at| (0.15 * f64::from(at), 0.3 + 0.105 * f64::from(at))).collect();
    let curve = Curve::new(&line, 0.3).unwrap();
    near(curve.gamma().unwrap(), 0.7, 1e-9);
    near(curve.gradient(1.5).unwrap(), 0.7, 1e-9);
    near(curve.contrast_index().unwrap(), 0.7, 1e-6);
    near(curve.speed_point().unwrap(), 0.1 / 0.7, 1e-9);
}

/// 0.60 and 0.58 fall, so both become 0.59. Of 3, 2, 1 all become 2.
#[test]
fn densities_that_fall_are_pooled() {
    let pooled = |values: &[f64]| {
        let groups: Vec<(f64, f64)> = values.iter().map(|value| (*value, 1.0)).collect();
        pooled(&groups).iter().map(|value| (value * 1e6).round() / 1e6).collect::<Vec<_>>()
    };
    assert_eq!(pooled(&[0.52, 0.60, 0.58, 0.67]), [0.52, 0.59, 0.59, 0.67]);
    assert_eq!(pooled(&[3.0, 2.0, 1.0]), [2.0, 2.0, 2.0]);
    assert!(pooled(&[]).is_empty());
}

#[test]
fn a_curve_never_falls_between_its_steps() {
    let noisy = [(0.0, 0.30), (0.3, 0.29), (0.6, 0.35), (0.9, 0.34), (1.2, 0.80), (1.5, 0.81), (1.8, 0.81)];
    let curve = Curve::new(&noisy, 0.29).unwrap();
    let densities: Vec<f64> = (0..=1800).map(|at| curve.density(f64::from(at) / 1000.0).unwrap()).collect();
    assert!(densities.windows(2).all(|pair| pair[0] <= pair[1] + 1e-12));
    assert_eq!((curve.density(-0.001), curve.density(1.801)), (None, None));
}

/// A wedge's step of 0.95 reads 7310 and one of 1.25 reads 3960. A reading of 5000:
/// 0.95 + 0.30 x ln(7310/5000)/ln(7310/3960) = 0.95 + 0.30 x 0.37980/0.61299 = 1.136.
#[test]
fn readings_become_densities_by_known_steps() {
    let scale = Scale::new(vec![(0.05, 52400.0), (1.25, 3960.0), (0.95, 7310.0)]).unwrap();
    near(scale.density(5000.0).unwrap(), 1.136, 0.0005);
    near(scale.density(52400.0).unwrap(), 0.05, 1e-12);
    assert_eq!(scale.density(52401.0), Err(OffScale::Lighter));
    assert_eq!(scale.density(3959.0), Err(OffScale::Darker));
    assert_eq!(Scale::new(vec![(0.05, 52400.0)]), None);
    assert_eq!(Scale::new(vec![(0.05, 3960.0), (0.95, 7310.0)]), None, "a denser step reads lighter");
}

/// 1.20/(0.30103 x 7) = 0.5695; over eight stops 0.4983, over six 0.6644.
#[test]
fn contrasts_for_scenes() {
    for (stops, contrast) in [(7.0, 0.5695), (8.0, 0.4983), (6.0, 0.6644), (9.0, 0.4429), (5.0, 0.7973)] {
        near(contrast_for(stops), contrast, 0.00005);
    }
}

/// Times t and 2t from a start at 0 have a closed form: 0.46 after 5 min and 0.72 after 10 give
/// G∞ = 0.46²/(0.92 - 0.72) = 1.058 and k = ln(0.46/0.26)/5 = 0.1141. At 15 min that law gives 1.058 (1 - 0.5652³) =
/// 0.8670. 0.5695 is reached at ln(1/(1 - 0.5695/1.058))/0.1141 = 6.77 min.
#[test]
fn three_exact_strips_give_their_law_again() {
    let law = Fit::of(&strips(&[(5.0, 0.46), (10.0, 0.72), (15.0, 0.8670)])).unwrap().law;
    near(law.limit, 1.058, 0.002);
    near(law.rate, 0.1141, 0.0005);
    near(law.minutes(0.5695, 20.0).unwrap(), 6.77, 0.01);
}

/// Three times in equal steps have one too: 4, 7, 10 min with 0.38, 0.60, 0.745 give r = 0.145/0.22 = 0.6591,
/// k = -ln(r)/3 = 0.13896, G∞ = 0.0769/0.075 = 1.0253 and t0 = 4 + ln(1 - 0.38/1.0253)/0.13896 = 0.668.
#[test]
fn three_strips_in_equal_steps() {
    let fit = Fit::of(&strips(&[(4.0, 0.38), (7.0, 0.60), (10.0, 0.745)])).unwrap();
    near(fit.law.rate, 0.13896, 1e-5);
    near(fit.law.limit, 1.0253, 5e-5);
    near(fit.law.start, 0.668, 5e-4);
    assert_eq!(fit.freedom, 0);
}

/// H. E. Ives, Airplane Photography, 1920, page 261: for chlorhydroquinone-metol at 20 C, gamma infinity is 2.12 and the
/// velocity constant 0.400. Chapter XVIII says of it: "A gamma of nearly 2 should be developed in 2 1/2 minutes at 20
/// degrees C." In base 10 that is 2.12 (1 - 10^-1) = 1.908; in base e it would be 1.340. Base 10 is 0.9210 in base e.
/// Gamma 1.0 is at 0.693 min, 1.5 at 1.335 min; with a coefficient of 2.0 for 7 C, 1.5 is at 2:40 at 13 C.
#[test]
fn a_published_developer() {
    let per_ten_degrees = 2.0_f64.powf(10.0 / 7.0);
    let factor = Some(per_ten_degrees);
    let law =
        wetside::trial::Law { limit: 2.12, rate: 0.400 * 10.0_f64.ln(), start: 0.0, celsius: 20.0, factor };
    near(law.contrast(2.5, 20.0), 1.908, 0.0005);
    near(law.minutes(1.0, 20.0).unwrap(), 0.693, 0.0005);
    near(law.minutes(1.5, 20.0).unwrap(), 1.335, 0.0005);
    near(law.minutes(1.5, 13.0).unwrap() * 60.0, 160.0, 1.0);
    near(law.minutes(1.5, 27.0).unwrap() * 60.0, 40.0, 1.0);
    near(per_ten_degrees, 2.692, 0.001);
    assert_eq!(law.minutes(2.12, 20.0), None);
}

/// Hand tank development of X-ray film takes 5 min at 68 F and 3 min at 76 F (Minnesota Rules 4732.0555, and two other
/// states): 8 F are 4.444 C, so the factor for 10 C is (5/3)^(10/4.444) = 3.156. The contrasts are invented: after half
/// of the time, the time, and twice the time they are the same at both temperatures.
#[test]
fn the_factor_of_a_published_chart() {
    let parts = [(0.5, 0.40), (1.0, 0.64), (2.0, 0.8704)];
    let strip = |minutes: f64, fahrenheit: f64| {
        let celsius = (fahrenheit - 32.0) / 1.8;
        parts.map(|(part, contrast)| Strip { minutes: part * minutes, celsius, contrast })
    };
    let law = Fit::of(&[strip(5.0, 68.0), strip(3.0, 76.0)].concat()).unwrap().law;
    near(law.factor.unwrap(), 3.156, 0.001);
    near(law.minutes(0.64, 20.0).unwrap(), 5.0, 0.001);
}

const FIVE: [(f64, f64); 5] = [(4.0, 0.38), (5.5, 0.51), (8.0, 0.66), (11.0, 0.77), (15.0, 0.87)];

/// By the two strips beside it, 0.5695 is at ln 5.5 + (0.0595/0.15) ln(8/5.5) = 1.7047 + 0.1486, so 6.38 min.
#[test]
fn the_law_is_compared_with_the_two_nearest_strips() {
    let answer = Times::new(strips(&FIVE), 0.01).minutes(0.5695, 20.0, false).unwrap();
    let Basis::Law { by_neighbours: Some(minutes) } = answer.basis else { panic!("{answer:?}") };
    near(minutes, 6.38, 0.005);
}

#[test]
fn nothing_outside_the_tested_range_unless_asked() {
    let times = Times::new(strips(&FIVE), 0.01);
    assert_eq!(times.minutes(0.90, 20.0, false), Err(NoTime::Contrast { low: 0.38, high: 0.87 }));
    assert_eq!(times.minutes(0.57, 21.0, false), Err(NoTime::Temperature { low: 20.0, high: 20.0 }));
    assert!(times.minutes(0.90, 20.0, true).unwrap().is_outside);
    assert!(!times.minutes(0.87, 20.0, true).unwrap().is_outside);
    assert!(matches!(times.minutes(0.98, 20.0, true), Err(NoTime::PastLimit(_))));
}

/// Two strips give the time between them and nothing more: ln 6 + 0.5 ln(9/6) for the contrast in the middle.
#[test]
fn two_strips_say_where_and_not_how_far() {
    let times = Times::new(strips(&[(6.0, 0.50), (9.0, 0.64)]), 0.01);
    assert_eq!(times.fit, Err(NoFit::TooFewTimes));
    let answer = times.minutes(0.57, 20.0, true).unwrap();
    near(answer.minutes, 54.0_f64.sqrt(), 1e-9);
    assert_eq!(answer.basis, Basis::Neighbours(6.0, 9.0));
    assert_eq!(times.minutes(0.65, 20.0, true), Err(NoTime::Contrast { low: 0.50, high: 0.64 }));
}

/// Two strips of 5 and 10 min with 0.46 and 0.72 bracket 0.5695. By the law through them with a start of 0 it is at 6.77
/// min, and at 6.69 to 6.85 if one of them is off by 0.01; in the logarithm it is at ln 5 + 0.1095/0.26 x ln 2: 6.695.
#[test]
fn two_strips_that_bracket_a_contrast_find_its_time() {
    let answer = Times::new(strips(&[(5.0, 0.46), (10.0, 0.72)]), 0.01).minutes(0.5695, 20.0, false).unwrap();
    near(answer.minutes, 6.695, 0.001);
    assert!(answer.minutes - answer.half_width <= 6.69 && 6.85 <= answer.minutes + answer.half_width);
}

/// Exact strips of the law 1.02 (1 - exp(-0.135 (t - 0.5))), but for one that is 0.07 too hard: 8 min have 0.6494.
#[test]
fn a_strip_far_from_the_others_is_an_outlier() {
    let law = |minutes: f64| 1.02 * (1.0 - (-0.135 * (minutes - 0.5)).exp());
    let exact: Vec<(f64, f64)> = [4.0, 5.5, 8.0, 11.0, 15.0].map(|minutes| (minutes, law(minutes))).to_vec();
    assert_eq!(Times::new(strips(&exact), 0.005).outlier(), None);
    let mut spoilt = exact.clone();
    spoilt[2].1 += 0.07;
    let (strip, off) = Times::new(strips(&spoilt), 0.005).outlier().unwrap();
    near(strip.minutes, 8.0, 1e-9);
    near(off, 0.07, 0.001);
    spoilt[2].1 = exact[2].1 + 0.02;
    assert_eq!(Times::new(strips(&spoilt), 0.005).outlier(), None, "less than a print shows");
}

/// All of these strips are on the first, nearly straight part of the law: G∞ could be anything.
#[test]
fn a_limit_that_no_strip_shows_is_not_given() {
    let short = strips(&[(2.0, 0.20), (3.0, 0.30), (4.0, 0.41), (5.0, 0.50)]);
    assert_eq!(Fit::of(&short), Err(NoFit::LimitNotSeen));
    assert!(Times::new(short, 0.01).minutes(0.35, 20.0, false).is_ok());
    let falling = strips(&[(4.0, 0.60), (6.0, 0.50), (9.0, 0.45)]);
    assert!(Fit::of(&falling).is_err());
    let warm = Strip { minutes: 8.0, celsius: 22.0, contrast: 0.7 };
    assert_eq!(Fit::of(&[strips(&FIVE), vec![warm]].concat()), Err(NoFit::TooNear));
    assert_eq!(Fit::of(&[]), Err(NoFit::TooFewTimes));
}
