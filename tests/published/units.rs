//! Units as the parser reads them, compared with the national standards that define them.

use std::collections::BTreeSet;

use wetside::model::{Band, Duration, Measure, Pulse, Temperature};
use wetside::vocabulary::units;

use super::{CUSTOM, Misprint, Published, assert_published, not_misled};
use crate::kitchen::{Kitchen, read_duration, read_step, step_text};

const NIST: &str = "NIST Handbook 44, appendix C; digits from memory";
const STYLE: &str = "NIST SP 811, appendix B.8; digits from memory";
const SI: &str = "the SI brochure, tables 1 and 8; from memory";

/// A volume in millilitres, parsed from a tank's `holds`.
#[expect(clippy::cast_precision_loss, reason = "femtolitres to a relative 1e-16")]
pub(super) fn millilitres(given: &str) -> f64 {
    let text =
        format!("wetside 1\n\ntank trial {{\n    reels 120 x 1, 0.001 ml each\n    holds {given}\n}}\n");
    let kitchen = Kitchen::sound(&text);
    kitchen.tank().unwrap().holds.unwrap().value.fl as f64 / 1e12
}

/// The amount of an ingredient in a formula for this volume.
fn measure(makes: &str, given: &str) -> Measure {
    let text = format!(
        "wetside 1\n\nsolution trial {{\n    role stop\n    formula for {makes} {{\n        \
         potassium-bromide {given}\n        water to {makes}\n    }}\n}}\n\n\
         recipe trial {{\n    stop {{\n        in trial\n        time 1:00\n    }}\n}}\n"
    );
    let kitchen = Kitchen::sound(&text);
    let step = kitchen.shelf.recipes.first().unwrap().steps.first().unwrap();
    let solution = step.bath.as_ref().unwrap().solution.as_ref().unwrap();
    solution.formulas.first().unwrap().items.first().unwrap().measure
}

/// A mass in grams, or grams or millilitres per litre.
#[expect(clippy::cast_precision_loss, reason = "picograms to a relative 1e-16")]
pub(super) fn grams(given: &str) -> f64 {
    match measure("1 l", given) {
        Measure::Mass(mass) | Measure::MassPerLitre(mass) => mass.pg as f64 / 1e12,
        Measure::VolumePerLitre(volume) => volume.fl as f64 / 1e12,
        Measure::Volume(_) | Measure::UpTo(_) => panic!("{given} was read as a volume"),
    }
}

#[expect(clippy::cast_precision_loss, reason = "temperatures of a bath are small")]
fn base_celsius(temperature: Temperature) -> f64 {
    temperature.base as f64 / 9000.0
}

/// A temperature in degrees Celsius, parsed from a step's `at`.
pub(super) fn degrees(given: &str) -> f64 {
    let step = read_step("rest", &["time 1:00", &format!("at {given}")]);
    base_celsius(step.at.unwrap().value)
}

/// A difference of temperatures in degrees Celsius, parsed from a step's `within`.
#[expect(clippy::cast_precision_loss, reason = "differences of baths are small")]
pub(super) fn apart(given: &str) -> f64 {
    match read_step("rest", &["time 1:00 at 20 C", &format!("within {given}")]).band.unwrap().value {
        Band::Within(by) => by.base as f64 / 9000.0,
        Band::Between(..) => panic!("{given} was read as two temperatures"),
    }
}

/// A time in seconds.
#[expect(clippy::cast_precision_loss, reason = "times of a step are small")]
fn seconds(given: &str) -> f64 {
    let duration = read_duration("rest", &[&format!("time {given}")]);
    let Duration::Plain { time, .. } = duration else { panic!("{given} was read as {duration:?}") };
    time.ms as f64 / 1000.0
}

/// A flow in litres per minute, or the speed of a drum in rpm.
#[expect(clippy::cast_precision_loss, reason = "femtolitres to a relative 1e-16")]
fn each_minute(given: &str) -> f64 {
    if given.ends_with("rpm") {
        let step = read_step("stop", &["in water", "time 1:00", &format!("agitate rotary {given}")]);
        let pulse = step.agitation.unwrap().value.pulse;
        let Pulse::Rotary(speed) = pulse else { panic!("{given} was read as {pulse:?}") };
        return f64::from(speed.rpm);
    }
    // Edition 2, which has gallons a minute.
    let text = step_text("wash", &["time 1:00", &format!("flow {given}")]).replace("wetside 1", "wetside 2");
    let duration = Kitchen::sound(&text).shelf.recipes[0].steps[0].duration.value.clone();
    let Duration::Flow { flow, .. } = duration else { panic!("{given} was read as {duration:?}") };
    flow.per_minute.fl as f64 / 1e15
}

const fn row(given: &'static str, expected: f64, within: f64, source: &'static str) -> Published {
    Published { what: "one of it", given, expected, within, source }
}

/// In millilitres, to the last digit of the standard.
const VOLUMES: &[Published] = &[
    row("1 ml", 1.0, 0.0, SI),
    row("1 l", 1000.0, 0.0, SI),
    row("1 us-gal", 3_785.411_784, 1e-9, NIST),
    row("1 us-qt", 946.352_946, 1e-9, NIST),
    row("1 us-pt", 473.176_473, 1e-9, NIST),
    row("1 us-fl-oz", 29.573_529_562_5, 1e-11, NIST),
    row("1 imp-gal", 4_546.09, 1e-9, NIST),
    row("1 imp-qt", 1_136.522_5, 1e-9, NIST),
    row("1 imp-pt", 568.261_25, 1e-9, NIST),
    row("1 imp-fl-oz", 28.413_062_5, 1e-11, NIST),
    row("1 us-gal", 3_785.412, 0.000_5, STYLE),
    row("1 us-fl-oz", 29.573_53, 0.000_005, STYLE),
    row("1 imp-gal", 4_546.09, 0.000_5, STYLE),
    row("1 imp-fl-oz", 28.413_06, 0.000_005, STYLE),
    row("32 us-fl-oz", 946.352_946, 1e-9, "a quart is 32 fluid ounces: NIST Handbook 44, appendix C"),
    row(
        "20 imp-fl-oz",
        568.261,
        0.000_5,
        "a pint is 20 fluid ounces: Weights and Measures Act 1985 (UK), from memory",
    ),
    row("80 imp-fl-oz", 2_273.045, 1e-9, "half a gallon: Weights and Measures Act 1985 (UK), from memory"),
    row("1 us-fl-oz", 29.57, 0.005, "NIST Handbook 44, appendix C, rounded"),
    row("1 imp-fl-oz", 28.4, 0.05, "NIST Handbook 44, appendix C, rounded"),
    row("8 us-fl-oz", 240.0, 5.0, "common steel tanks, per 135 reel: from memory"),
    row("16 us-fl-oz", 475.0, 5.0, "common steel tanks, per 120 reel: from memory"),
];

/// In grams.
const MASSES: &[Published] = &[
    row("1 mg", 0.001, 0.0, SI),
    row("1 g", 1.0, 0.0, SI),
    row("1 kg", 1000.0, 0.0, SI),
    row("1 lb", 453.592_37, 1e-10, NIST),
    row("1 av-oz", 28.349_523_125, 1e-12, NIST),
    row("1 grain", 0.064_798_91, 1e-12, NIST),
    row("1 av-oz", 28.349_52, 0.000_005, STYLE),
    row("1 grain", 0.064_798_91, 5e-9, STYLE),
    row("480 grain", 31.103_476_8, 1e-10, "an apothecaries' ounce: NIST Handbook 44, appendix C"),
    row("437.5 grain", 28.349_523_125, 1e-12, "an avoirdupois ounce: NIST Handbook 44, appendix C"),
    row("15.432 grain", 1.0, 0.000_033, "NIST Handbook 44, appendix C, rounded"),
    row("1 g/l", 1.0, 0.0, SI),
    row("1 ml/l", 1.0, 0.0, SI),
];

/// In seconds.
const TIMES: &[Published] = &[
    row("1 s", 1.0, 0.0, SI),
    row("1 min", 60.0, 0.0, SI),
    row("1 h", 3600.0, 0.0, SI),
    row("10:15", 615.0, 0.0, CUSTOM),
    row("1:02:30", 3750.0, 0.0, CUSTOM),
    row("10 1/4 min", 615.0, 0.0, CUSTOM),
    row("2 1/2 min", 150.0, 0.0, CUSTOM),
    row("9 min 30 s", 570.0, 0.0, CUSTOM),
    row("90:00", 5400.0, 0.0, CUSTOM),
];

/// A minute.
const RATES: &[Published] = &[
    row("1 l/min", 1.0, 0.0, SI),
    row("1 rpm", 1.0, 0.0, SI),
    row("1 us-gal/min", 3.785_411_784, 1e-9, NIST),
    row("1 imp-gal/min", 4.546_09, 1e-9, NIST),
];

/// In degrees Celsius.
const TEMPERATURES: &[Published] = &[
    row("20 C", 20.0, 0.0, SI),
    row("32 F", 0.0, 0.0, STYLE),
    row("68 F", 20.0, 0.0, "US Navy, Photography (Basic), NAVEDTRA 14209, 1993, page 10-15, with SP 811"),
    row("125 F", 51.67, 0.005, "the usual hot water for mixing, with SP 811"),
    row("27 C", 27.0, 0.0, SI),
    row("80 F", 27.0, 0.5, "Anchell, The Darkroom Cookbook, 3rd ed., 2008, page 268: 80 F or 27 C"),
    row("90 F", 32.0, 0.5, "Anchell, The Darkroom Cookbook, 3rd ed., 2008, page 268: 90 F or 32 C"),
    row("80 F", 26.7, 0.05, "Minnesota Rules 4732.0555, chart"),
    row("78 F", 25.6, 0.05, "Minnesota Rules 4732.0555, chart"),
    row("76 F", 24.4, 0.05, "Minnesota Rules 4732.0555, chart"),
    row("74 F", 23.3, 0.05, "Minnesota Rules 4732.0555, chart"),
    row("72 F", 22.2, 0.05, "Minnesota Rules 4732.0555, chart"),
    row("70 F", 21.1, 0.05, "Minnesota Rules 4732.0555, chart"),
    row("68 F", 20.0, 0.05, "Minnesota Rules 4732.0555, chart"),
    row("66 F", 18.9, 0.05, "Minnesota Rules 4732.0555, chart"),
    row("64 F", 17.8, 0.05, "Minnesota Rules 4732.0555, chart"),
    row("62 F", 16.7, 0.05, "Minnesota Rules 4732.0555, chart"),
    row("60 F", 15.6, 0.05, "Minnesota Rules 4732.0555, chart"),
];

#[test]
fn volumes_equal_those_of_the_standards() {
    assert_published(VOLUMES, millilitres);
}

#[test]
fn masses_equal_those_of_the_standards() {
    assert_published(MASSES, grams);
}

#[test]
fn times_and_rates_equal_those_of_the_standards() {
    assert_published(TIMES, seconds);
    assert_published(RATES, each_minute);
}

#[test]
fn temperatures_equal_those_of_the_standards() {
    assert_published(TEMPERATURES, degrees);
}

#[test]
fn a_difference_of_temperatures_has_no_offset() {
    let rows = [
        row("18 F", 10.0, 0.0, STYLE),
        row("9 F", 5.0, 0.0, STYLE),
        row("0.5 F", 0.277_777_8, 5e-8, STYLE),
        row("10 C", 10.0, 0.0, SI),
    ];
    assert_published(&rows, apart);
}

#[test]
fn the_sign_of_a_mixed_number_applies_to_all_of_it() {
    assert_published(&[row("-1 1/4 C", -1.25, 0.0, CUSTOM), row("20 1/2 C", 20.5, 0.0, CUSTOM)], degrees);
}

#[test]
fn a_time_on_the_clock_has_no_sign() {
    for time in ["-0:30", "+5:30", "-1:00"] {
        let kitchen = Kitchen::of(&step_text("rest", &[&format!("time {time}")]));
        assert!(!kitchen.findings.is_empty(), "time {time} is read");
    }
}

#[test]
fn every_unit_has_a_published_value() {
    // A keeping time has no length in seconds; its model is a count and a unit.
    let keeping = ["days", "weeks", "months", "years"];
    let rows = [VOLUMES, MASSES, TIMES, RATES, TEMPERATURES];
    let held = rows.into_iter().flatten().filter_map(|row| row.given.split(' ').nth(1));
    let held: BTreeSet<&str> = held.chain(keeping).collect();
    let known: BTreeSet<&str> = units().iter().map(|unit| unit.word).collect();
    assert!(known.is_subset(&held), "no published value: {:?}", known.difference(&held));
}

#[test]
fn no_value_equals_a_known_misprint() {
    let collins = "Collins, Inventing for Boys, 1916, appendix E";
    let grain = Misprint {
        what: "a grain",
        given: "1 grain",
        right: 0.064_799,
        printed: 0.064_789,
        within: 0.000_000_5,
        source: collins,
    };
    let ounce = Misprint {
        what: "an ounce in grains, times the true grain",
        given: "1 av-oz",
        right: 437.5 * 0.064_798_91,
        printed: 440.0 * 0.064_798_91,
        within: 0.001,
        source: "US Army, Photographic Quality Control, subcourse SS0513, 1988",
    };
    not_misled(&[grain, ounce], grams);
    // Published as ounces per cubic centimetre, which is a millilitre.
    let fluid = Misprint {
        what: "a millilitre in fluid ounces",
        given: "1 us-fl-oz",
        right: 0.0338,
        printed: 0.0344,
        within: 0.000_05,
        source: collins,
    };
    not_misled(&[fluid], |given| 1.0 / millilitres(given));
    let top = Misprint {
        what: "the warm end of the chart",
        given: "80 F",
        right: 26.7,
        printed: 16.7,
        within: 0.05,
        source: "Minnesota Rules 4732.0555, text beside the chart",
    };
    not_misled(&[top], degrees);
}
