//! Time by temperature, compared with published charts (R1, R2). No public manual has a legible chart of roll film, so
//! these are for X-ray film: they test the arithmetic only.

use wetside::compile::{at_chart, at_rate};
use wetside::model::{Duration, Format, StepKind, Time, Volume};

use super::{CUSTOM, Published, assert_published};
use crate::kitchen::{Kitchen, compiled, evening, fahrenheit, read_step, step};

/// Degrees Fahrenheit, the time as a recipe writes it, and the time in minutes.
type Point = (u32, &'static str, f64);

/// Hand tank development of X-ray film, printed to half a minute: Minnesota Rules 4732.0555, North Dakota
/// Administrative Code 33.1-10-06 appendix D, Washington Administrative Code 246-225-150.
const STATE_LAW: [Point; 11] = [
    (60, "9:30", 9.5),
    (62, "8:00", 8.0),
    (64, "6:30", 6.5),
    (66, "5:30", 5.5),
    (68, "5:00", 5.0),
    (70, "4:30", 4.5),
    (72, "4:00", 4.0),
    (74, "3:30", 3.5),
    (76, "3:00", 3.0),
    (78, "2:30", 2.5),
    (80, "2:00", 2.0),
];

/// Half the rounding step of the published chart, in minutes.
const HALF_STEP: f64 = 0.25;

/// The time in minutes at a temperature, by a chart of these points.
fn read_off(table: &[Point], knots: &[u32], at: u32) -> f64 {
    let points = table.iter().filter(|(degrees, ..)| knots.contains(degrees));
    let points: String = points.map(|(degrees, time, _)| format!("{degrees} F {time}\n")).collect();
    let step = read_step("develop", &["in water", &format!("chart {{\n{points}}}")]);
    let Duration::Chart(chart) = step.duration.value else { panic!("no chart was read") };
    at_chart(&chart, fahrenheit(&at.to_string())).unwrap() / 60.0
}

/// The published time in minutes.
fn printed(table: &[Point], at: u32) -> f64 {
    let point = table.iter().find(|(degrees, ..)| *degrees == at).unwrap();
    point.2
}

/// The largest error of a chart of these points at the published points it omits, and its temperature.
fn widest_miss(table: &[Point], knots: &[u32]) -> (f64, u32) {
    let (first, last) = (knots.first().unwrap(), knots.last().unwrap());
    let left_out =
        table.iter().filter(|(at, ..)| first < at && at < last && !knots.contains(at)).map(|(at, ..)| *at);
    let misses = left_out.map(|at| ((read_off(table, knots, at) - printed(table, at)).abs(), at));
    misses.max_by(|one, other| one.0.total_cmp(&other.0)).unwrap()
}

#[test]
fn points_at_most_four_degrees_apart_predict_those_between() {
    let temperatures: Vec<u32> = STATE_LAW.iter().map(|(at, ..)| *at).collect();
    for three in temperatures.windows(3) {
        let [cold, middle, warm] = three else { unreachable!("windows of three") };
        let got = read_off(&STATE_LAW, &[*cold, *warm], *middle);
        let wanted = printed(&STATE_LAW, *middle);
        assert!(
            (got - wanted).abs() <= HALF_STEP,
            "{cold} and {warm} F: {got} min at {middle}, not {wanted}"
        );
    }
}

#[test]
fn times_between_points_equal_those_worked_by_hand() {
    const SOURCE: &str = "Minnesota Rules 4732.0555: the root of the product of the times beside it";
    let row = |given, expected| Published { what: "minutes", given, expected, within: 0.005, source: SOURCE };
    let rows = [row("62", 7.86), row("66", 5.70), row("70", 4.47), row("74", 3.46), row("78", 2.45)];
    assert_published(&rows, |given| {
        let at: u32 = given.parse().unwrap();
        read_off(&STATE_LAW, &[60, 64, 68, 72, 76, 80], at)
    });
}

#[test]
fn points_eight_degrees_apart_predict_badly_in_the_cold() {
    // The published curve is steeper there than a straight logarithm: √(9½ × 5) = 6.89 minutes, not 6½.
    let (miss, at) = widest_miss(&STATE_LAW, &[60, 68, 76]);
    assert_eq!(at, 64);
    assert!((miss - 0.39).abs() < 0.005, "{miss} min");
    assert!(HALF_STEP < miss, "{miss} min");
    let (miss, _) = widest_miss(&STATE_LAW, &[68, 76]);
    assert!(miss <= HALF_STEP, "{miss} min: the warm half is straight enough");
}

#[test]
fn the_two_ends_alone_predict_worst() {
    // 9½^(4/5) × 2^(1/5) = 6.96 minutes at 64 °F, not 6½.
    let (miss, at) = widest_miss(&STATE_LAW, &[60, 80]);
    assert_eq!(at, 64);
    assert!((miss - 0.46).abs() < 0.005, "{miss} min");
    assert!(widest_miss(&STATE_LAW, &[60, 68, 76]).0 < miss, "{miss} min");
}

/// The largest error over the whole chart with 5 minutes at 68 °F and one coefficient for 10 °C.
fn miss_of_a_rate(factor: &str) -> f64 {
    let misses = STATE_LAW.iter().map(|(at, _, minutes)| (by_rate(factor, *at) - minutes).abs());
    misses.fold(0.0, f64::max)
}

/// The time in minutes at a temperature, with 5 minutes at 68 °F and a coefficient for 10 °C.
fn by_rate(factor: &str, at: u32) -> f64 {
    let text = format!(
        "wetside 1\n\nsolution trial {{\n    role developer\n    rate {factor} per 10 C\n}}\n\n\
         recipe trial {{\n    develop {{\n        in trial\n        time 5:00 at 68 F\n        \
         between 60 F and 80 F\n    }}\n}}\n"
    );
    let kitchen = Kitchen::sound(&text);
    let step = kitchen.shelf.recipes.first().unwrap().steps.first().unwrap();
    let rate = step.bath.as_ref().unwrap().solution.as_ref().unwrap().rate.unwrap().value;
    let Duration::Plain { time, at: Some(holds_at) } = step.duration.value else {
        panic!("no time was read")
    };
    at_rate(time, holds_at, rate, fahrenheit(&at.to_string())) / 60.0
}

#[test]
fn one_coefficient_does_not_replace_the_chart() {
    let (of_chart, _) = widest_miss(&STATE_LAW, &[60, 64, 68, 72, 76, 80]);
    assert!(of_chart <= HALF_STEP, "{of_chart} min");
    // From the points beside 68 °F: (5½ ÷ 4½)^4.5 = 2.47. At 60 °F it gives 7.5 minutes, not 9½.
    let beside = miss_of_a_rate("2.47");
    assert!((beside - 2.03).abs() < 0.02, "{beside} min");
    // From all 21 printed points, by least squares of the logarithms: 3.79. It still misses by 11 %.
    let of_all = miss_of_a_rate("3.79");
    assert!((of_all - 0.46).abs() < 0.01, "{of_all} min");
    assert!(of_chart < of_all && of_all < beside, "{of_chart}, {of_all} and {beside} min");
}

#[test]
fn a_coefficient_reproduces_the_two_times_it_comes_from() {
    const SOURCE: &str = "Minnesota Rules 4732.0555, two points of the chart";
    let at = |given, expected| Published { what: "minutes", given, expected, within: 0.01, source: SOURCE };
    assert_published(&[at("60", 9.5), at("68", 5.0)], |given| by_rate("4.24", given.parse().unwrap()));
    assert_published(&[at("68", 5.0), at("76", 3.0)], |given| by_rate("3.16", given.parse().unwrap()));
}

/// A film in a developer, by common practice: 10:15 at 68 °F, and a minute less at 70 °F.
const HANDED_ON: &str = "wetside 1

film estuary-400 {
    speed ISO 400
}

recipe handed-on {
    film estuary-400
    develop {
        in water
        chart {
            68 F 10:15
            70 F 9:15
        }
    }
}
";

#[test]
fn the_time_halfway_between_two_points_is_their_geometric_mean() {
    let minutes = |at: &str| {
        let mut conditions = evening(fahrenheit(at), &[(5, Format::F120)]);
        conditions.volume = Some(Volume::from_ml(2500));
        step(&compiled(HANDED_ON, &conditions), StepKind::Develop).duration
    };
    // √(10:15 × 9:15) = 9:44.2 (common practice, no source).
    assert_eq!(minutes("69"), Time::from_seconds(9 * 60 + 44), "{CUSTOM}");
    assert_eq!(minutes("68"), Time::from_seconds(10 * 60 + 15), "{CUSTOM}");
    assert_eq!(minutes("70"), minutes("68") - Time::from_seconds(60), "{CUSTOM}");
}

#[test]
fn a_chart_has_no_time_below_its_coldest_point() {
    // Below 65 °F the action may be incomplete (US Army, Laboratory Procedures, subcourse SS0509, 1988, page 13), so
    // an extrapolated time would be too short.
    let step = read_step("develop", &["in water", "chart {\n60 F 9:30\n68 F 5:00\n}"]);
    let Duration::Chart(chart) = step.duration.value else { panic!("no chart was read") };
    assert_eq!(at_chart(&chart, fahrenheit("59")), None);
    assert_eq!(at_chart(&chart, fahrenheit("59.999")), None);
    assert!(at_chart(&chart, fahrenheit("60")).is_some());
}
