//! R14: the wash in changes or in running water, and the water of the evening.

use super::{events, made, measured, ms, step, trial, when};

const TANK: &str = "tank two {\nreels 120 x 2, 500 ml each\nfill 25 s\ndrain 20 s\n}";

fn washed(lines: &str) -> serde_json::Value {
    let text = trial(TANK, &format!("wash {{\n{lines}\n}}\nrest {{\ntime 1:00\n}}"));
    made(&text, &["--at", "20C", "--rolls", "2"])
}

/// Each change takes 25 s, 2.5 s an inversion, 20 s: 57.5 + 70 + 95 = 222.5 s; three times 1000 ml.
#[test]
fn a_wash_by_fills_fills_inverts_and_dumps_each_change() {
    let schedule = washed("fills 5, 10, 20 inversions");
    let wash = step(&schedule, 0);
    assert_eq!(ms(wash, "duration_ms"), 222_500);
    assert_eq!(ms(wash, "pours"), 3);
    assert_eq!(wash["volume_ml"], 1000);
    let wanted = [
        ("fill", 0, 25_000),
        ("agitate", 25_000, 12_500),
        ("dump", 37_500, 20_000),
        ("fill", 57_500, 25_000),
        ("agitate", 82_500, 25_000),
        ("dump", 107_500, 20_000),
        ("fill", 127_500, 25_000),
        ("agitate", 152_500, 50_000),
        ("dump", 202_500, 20_000),
    ];
    assert_eq!(events(wash), wanted);
    assert_eq!(ms(step(&schedule, 1), "start_ms"), 222_500);
    assert_eq!(schedule["water_ml"], 3000);
}

/// Six times 25 + 300 + 20 s; with a scheme the film moves 10 s after each filling.
#[test]
fn a_wash_by_soaking_keeps_each_change_for_its_time() {
    let schedule = washed("soak 5:00 x 6\nagitate first 10 s");
    let wash = step(&schedule, 0);
    assert_eq!(ms(wash, "duration_ms"), 2_070_000);
    let starts = [0, 345_000, 690_000, 1_035_000, 1_380_000, 1_725_000];
    assert_eq!(when(wash, "fill"), starts.map(|at| (at, 25_000)));
    assert_eq!(when(wash, "agitate"), starts.map(|at| (at + 25_000, 10_000)));
    assert_eq!(when(wash, "dump"), starts.map(|at| (at + 325_000, 20_000)));
    assert_eq!(schedule["water_ml"], 6000);
}

/// 10 min of 2 l/min are 20 l, and the tank is full once: 21 l. The tank drains when the time is up.
#[test]
fn running_water_runs_for_its_time_and_then_drains() {
    let schedule = washed("flow 2 l/min\ntime 10 min");
    let wash = step(&schedule, 0);
    assert_eq!(ms(wash, "duration_ms"), 600_000);
    assert_eq!(events(wash), [("fill", 0, 25_000), ("dump", 600_000, 20_000)]);
    assert_eq!(ms(step(&schedule, 1), "start_ms"), 620_000);
    assert_eq!(schedule["water_ml"], 21_000);
}

/// R6: from full, the time counts when the 25 s of filling are over.
#[test]
fn running_water_with_a_clock_from_full_runs_for_its_time_after_filling() {
    let schedule = washed("flow 2 l/min\ntime 10 min\nclock from full");
    assert_eq!(events(step(&schedule, 0)), [("fill", 0, 25_000), ("dump", 625_000, 20_000)]);
}

/// A kept bath is not mixed tonight, and water that a bath is mixed with counts: 950 ml of 1+19 in 1000 ml.
#[test]
fn the_water_of_the_evening_excludes_kept_baths() {
    let declared = format!("solution acid {{\nrole stop\ncontains citric-acid\n}}\n{TANK}");
    let water = |fate: &str| {
        let steps = format!("stop {{\nin acid 1+19{fate}\ntime 2:00\n}}\nwash {{\nfills 10 inversions\n}}");
        let schedule = made(&trial(&declared, &steps), &["--at", "20C", "--rolls", "2"]);
        assert_eq!(measured(step(&schedule, 0)), [50.0, 950.0]);
        schedule["water_ml"].clone()
    };
    assert_eq!(water(", one-shot"), 1950);
    assert_eq!(water(", reused"), 1000);
    assert_eq!(water(", replenished"), 1000);
    assert_eq!(water(""), 1950);
}
