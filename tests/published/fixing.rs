//! Fixing times, capacities and washes by published manuals (R11, R13, R14).

use wetside::compile::{Schedule, Tonight};
use wetside::model::{Format, StepKind, Time, Volume};
use wetside::source::Diagnostic;

use super::{CUSTOM, Published, assert_published};
use crate::kitchen::{Kitchen, celsius, evening, fahrenheit, step};

/// A recipe with this clearing time, this capacity of the fixer, and these lines in the step.
fn kitchen(clears: &str, treats: &str, kind: &str, lines: &str) -> Kitchen {
    Kitchen::sound(&format!(
        "wetside 1\n\nfilm estuary-400 {{\n    clears {clears} in trial at 68 F\n}}\n\n\
         solution trial {{\n    role fixer\n    {treats}\n}}\n\n\
         recipe trial {{\n    film estuary-400\n    {kind} {{\n{lines}\n    }}\n}}\n"
    ))
}

fn conditions(count: u32, format: Format) -> Tonight {
    let mut conditions = evening(fahrenheit("68"), &[(count, format)]);
    conditions.volume = Some(Volume::from_ml(1000));
    conditions
}

/// The seconds of `N x clearing` for a film with this clearing time, given as `2 x of 5:00`.
#[expect(clippy::cast_precision_loss, reason = "a step's time is small")]
fn fixing(given: &str) -> f64 {
    let (times, clears) = given.split_once(" x of ").unwrap();
    let lines = format!("        in trial\n        time {times} x clearing");
    let kitchen = kitchen(clears, "", "fix", &lines);
    let schedule = kitchen.compiled(&conditions(1, Format::F120));
    step(&schedule, StepKind::Fix).duration.ms as f64 / 1000.0
}

#[test]
fn film_is_fixed_for_twice_its_clearing_time() {
    let row = |given, expected, source| Published { what: "seconds", given, expected, within: 0.0, source };
    let rows = [
        row("2 x of 1:00", 120.0, "US Navy, Photography (Basic), NAVEDTRA 14209, 1993, chapter 10"),
        row("2 x of 90 s", 180.0, "US Army, Laboratory Procedures, subcourse SS0509, 1988, page 15"),
        row(
            "2 x of 2:30",
            300.0,
            "US Department of Defense, Nondestructive Inspection Methods, T.O. 33B-1-1, page 6-77",
        ),
        row("2 x of 5:00", 600.0, "clears in 5 min, fixes in 10: common practice, no source"),
        row("2 x of 10:00", 1200.0, "spent when fixing passes 20 min: common practice, no source"),
        row("3 x of 100 s", 300.0, CUSTOM),
        row("3 x of 200 s", 600.0, CUSTOM),
    ];
    assert_published(&rows, fixing);
}

#[test]
fn the_minimum_applies_if_the_film_clears_fast() {
    // For most negatives 5 min is enough: US Army, Laboratory Procedures, subcourse SS0509, 1988, page 15.
    let lines = "        in trial\n        time 2 x clearing, at least 5:00";
    let fast = kitchen("30 s", "", "fix", lines).compiled(&conditions(1, Format::F120));
    assert_eq!(step(&fast, StepKind::Fix).duration, Time::from_seconds(300));
    let slow = kitchen("3:00", "", "fix", lines).compiled(&conditions(1, Format::F120));
    assert_eq!(step(&slow, StepKind::Fix).duration, Time::from_seconds(360));
}

/// A litre of a bath with this published capacity, used for this film.
fn tried(treats: &str, count: u32, format: Format) -> Result<Schedule, Vec<Diagnostic>> {
    let lines = "        in trial, reused\n        time 3:00";
    kitchen("1:00", treats, "fix", lines).tried(&conditions(count, format))
}

#[test]
fn a_litre_treats_the_published_number_of_rolls_and_no_more() {
    let printed = [
        // Anchell, The Darkroom Cookbook, 3rd ed., 2008, page 268: the acid rinse with sulfate.
        ("treats 12 rolls per 1 l", 12, Format::F120),
        // 20 to 25 films of 8 by 10 inches in a litre of a boric acid fixer: common practice, no source.
        ("treats 25 rolls per 1 l", 25, Format::SHEET_8X10),
        ("treats 25 rolls per 1 l", 100, Format::SHEET_4X5),
        // US Navy, Photography (Basic), NAVEDTRA 14209, 1993, chapter 10: about 200 prints of 8 by 10 inches in a US
        // gallon, by hand 52.8 in a litre.
        ("treats 200 rolls per 1 us-gal", 52, Format::SHEET_8X10),
        ("treats 12 rolls per 1 l", 6, Format::F220),
        ("treats 12 rolls per 1 l", 18, Format::F135X24),
    ];
    for (treats, most, format) in printed {
        let schedule = tried(treats, most, format).unwrap();
        let doubts: Vec<_> = schedule.warnings.iter().map(|doubt| doubt.rule).collect();
        assert!(doubts.contains(&"R13"), "the last of a bath is told: {treats}, {most} of {}", format);
        let faults = tried(treats, most + 1, format).unwrap_err();
        let names: Vec<_> = faults.iter().map(|fault| fault.name).collect();
        assert_eq!(names, ["bath-over-capacity"], "{treats}, one more than {most} of {}", format);
    }
}

#[test]
fn a_bath_has_a_warning_from_nine_tenths_of_its_capacity() {
    // Of 12 rolls in a litre (Anchell, The Darkroom Cookbook, 3rd ed., 2008, page 268), 10 are under nine tenths and 11
    // are over.
    let doubts = |count| {
        let schedule = tried("treats 12 rolls per 1 l", count, Format::F120).unwrap();
        schedule.warnings.iter().filter(|doubt| doubt.rule == "R13").count()
    };
    assert_eq!([doubts(1), doubts(10), doubts(11)], [0, 0, 1]);
}

#[test]
fn the_capacity_is_proportional_to_the_volume() {
    // About 20 films of 8 by 10 inches in 4.7 l, printed for a hardening stop: a litre treats 4.
    let treats = "treats 20 rolls per 4.7 l";
    assert!(tried(treats, 4, Format::SHEET_8X10).is_ok());
    assert!(tried(treats, 5, Format::SHEET_8X10).is_err());
}

#[test]
fn half_an_hour_of_running_water_is_counted_in_litres() {
    // US Army, Laboratory Procedures, subcourse SS0509, 1988, pages 16 to 24: 30 min in running water at 65 to 75 °F.
    // The flow is not published: 2 l/min here, and the tank holds one litre.
    let lines = "        flow 2 l/min\n        time 30 min\n        between 65 F and 75 F";
    let schedule = kitchen("1:00", "", "wash", lines).compiled(&conditions(1, Format::F120));
    assert_eq!(step(&schedule, StepKind::Wash).duration, Time::from_seconds(1800));
    assert_eq!(schedule.water, Volume::from_ml(61_000));
    let mut cold = conditions(1, Format::F120);
    cold.temperature = celsius("18");
    let warnings = kitchen("1:00", "", "wash", lines).compiled(&cold).warnings;
    assert!(warnings.iter().any(|warning| warning.rule == "R4"), "18 °C is under 65 °F: {warnings:?}");
}

#[test]
fn a_change_every_three_minutes_makes_seven_in_twenty_minutes() {
    // US Navy, Photography (Basic), NAVEDTRA 14209, 1993, page 10-8: at least 20 min with a whole change every 3 min.
    let kitchen = kitchen("1:00", "", "wash", "        soak 3:00 x 7");
    let schedule = kitchen.compiled(&conditions(1, Format::F120));
    let wash = step(&schedule, StepKind::Wash);
    assert_eq!(wash.duration, Time::from_seconds(21 * 60));
    assert_eq!(wash.bath.as_ref().unwrap().pours, 7);
    assert_eq!(schedule.water, Volume::from_ml(7000));
}
