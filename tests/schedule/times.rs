//! R1 to R7 and R15: the time of a step, its clock and its agitation. Each value is worked by hand in the comment
//! beside it.

use approx::assert_relative_eq;
use serde_json::{Value, json};

use super::{events, made, measured, ms, read, refused, step, trial, when};
use crate::evenings::shelf;

/// A developer, and a tank that takes 25 s to fill and 20 s to drain.
const BENCH: &str = "\
solution dev {
    role developer
    contains metol
    rate 2.4 per 10 C
}
tank five {
    reels 120 x 5, 500 ml each
    fill 25 s
    drain 20 s
}";

/// One step of development in stock, poured in 25 s and drained in 20 s.
fn develop(lines: &str, args: &[&str]) -> Value {
    let steps = format!("develop {{\nin dev stock, one-shot\n{lines}\n}}");
    let args = [&["--rolls", "1", "--at"], args].concat();
    step(&made(&trial(BENCH, &steps), &args), 0).clone()
}

fn of_shelf(recipe: &str, args: &[&str]) -> Value {
    let run = shelf().args(["card", recipe, "--as", "json"]);
    read(&args.iter().fold(run, |run, arg| run.arg(*arg)))
}

/// 1.505 min are 90.3 s, and 1.51 min are 90.6 s.
#[test]
fn a_stated_time_is_rounded_to_the_nearest_second() {
    for (stated, seconds) in [("1.505 min", 90), ("1.51 min", 91), ("90.5 s", 91)] {
        let step = develop(&format!("time {stated}\nbetween 18 C and 24 C\nagitate none"), &["20C"]);
        assert_eq!(ms(&step, "duration_ms"), seconds * 1000, "{stated}");
    }
}

/// Three quarters of the way from 20 °C (600 s) to 22 °C (495 s): 600^¼ · 495^¾ = 519.388 s, so 8:39.
#[test]
fn five_rolls_in_mq_borax_at_21_and_a_half_degrees() {
    let evening = ["--at", "21.5C", "--rolls", "5x120", "--tank", "tall-five"];
    let schedule = of_shelf("estuary-400-mq", &evening);
    let develop = step(&schedule, 0);
    assert_eq!(ms(develop, "duration_ms"), 519_000);
    let exact = develop["because"][0]["exact"].as_f64().unwrap();
    assert_relative_eq!(exact, 519_387.761_263, epsilon = 0.001);
    assert_eq!(develop["because"][0]["rule"], "R1");
    // 5 reels of 500 ml, and 5 rolls of 250 ml at one of two parts: 2500 ml either way.
    assert_eq!(develop["volume_ml"], 2500);
    assert_eq!(measured(develop), [1250.0, 1250.0]);
    // Full at 25 s; moved for 30 s, knocked; then 10 s at each whole minute; draining at 519 - 20 = 499 s.
    let mut wanted = vec![("pour", 0, 25_000), ("agitate", 25_000, 30_000), ("knock", 55_000, 0)];
    for at in [60_000, 120_000, 180_000, 240_000, 300_000, 360_000, 420_000, 480_000] {
        wanted.extend([("agitate", at, 10_000), ("knock", at + 10_000, 0)]);
    }
    wanted.push(("drain", 499_000, 20_000));
    assert_eq!(events(develop), wanted);
    // 519 + 60 + 240 + (3 · 45 + 35 · 2.5 = 222.5) + (25 + 30 + 20) s; the last is 'from full'.
    assert_eq!(ms(&schedule, "total_ms"), 1_116_500);
    assert_eq!(ms(&schedule, "drying_ms"), 10_800_000);
}

#[test]
fn a_chart_is_exact_on_its_points_and_logarithmic_between_them() {
    // Half way from 65 °F to 68 °F: √(720 · 615) = 665.43 s.
    let at = |at: &'static str| {
        ms(
            step(
                &of_shelf("saltmarsh-100-fahrenheit", &["--at", at, "--rolls", "1x120", "--tank", "twin"]),
                0,
            ),
            "duration_ms",
        )
    };
    assert_eq!(at("66.5F"), 665_000);
    assert_eq!(at("68F"), 615_000);
    assert_eq!(at("20C"), 615_000);
    assert_eq!(at("75F"), 435_000);
}

/// 450 s at 20 °C and 2.4 for each 10 °C: at 21 °C 450 · 2.4^-0.1 = 412.28 s, at 18 °C 450 · 2.4^0.2 = 536.10 s.
#[test]
fn a_rate_converts_a_time_to_other_temperatures() {
    let lines = "time 7:30 at 20 C\nbetween 18 C and 24 C";
    assert_eq!(ms(&develop(lines, &["21C"]), "duration_ms"), 412_000);
    assert_eq!(ms(&develop(lines, &["18C"]), "duration_ms"), 536_000);
    assert_eq!(develop(lines, &["18C"])["because"][0]["rule"], "R2");
    // `within` asks for no rate: the time stands.
    assert_eq!(ms(&develop("time 7:30 at 20 C\nwithin 2 C", &["21C"]), "duration_ms"), 450_000);
}

/// 495 · ln(600 ÷ 495) ÷ (1 - 495 ÷ 600) = 544.14 s from 22 to 20 °C. With a rate, from 70 °F, where it is
/// 408.288 s, to 68 °F, where it is 450 s: 408.288 · ln(450 ÷ 408.288) ÷ (1 - 408.288 ÷ 450) = 428.47 s.
#[test]
fn a_cooling_bath_takes_the_time_of_its_whole_drift() {
    let cooling = ["--at", "22C", "--ending", "20C", "--rolls", "2x120", "--tank", "tall-five"];
    let schedule = of_shelf("estuary-400-mq", &cooling);
    assert_eq!(ms(step(&schedule, 0), "duration_ms"), 544_000);
    assert_eq!(step(&schedule, 0)["ending_c"], 20);
    assert_eq!(step(&schedule, 0)["because"][0]["rule"], "R5");
    let lines = "time 7:30 at 20 C\nbetween 18 C and 24 C";
    assert_eq!(ms(&develop(lines, &["70F", "--ending", "68F"]), "duration_ms"), 428_000);
    assert_eq!(ms(&develop(lines, &["20C", "--ending", "20C"]), "duration_ms"), 450_000);
}

/// Half up, and once: 80.5 s is 81 s, 90.4 s is 90 s, whether it was calculated or written (R15).
#[test]
fn a_time_is_rounded_half_up_to_a_second() {
    let chart = "chart {\n18 C 90.4 s\n20 C 80.5 s\n}";
    assert_eq!(ms(&develop(chart, &["18C"]), "duration_ms"), 90_000);
    assert_eq!(ms(&develop(chart, &["20C"]), "duration_ms"), 81_000);
    let plain = "time 80.5 s\nbetween 18 C and 24 C";
    assert_eq!(ms(&develop(plain, &["20C"]), "duration_ms"), 81_000);
}

#[test]
fn a_temperature_outside_the_chart_or_band_is_refused() {
    let shelf = |at: &str| {
        let run =
            shelf().args(["card", "estuary-400-mq", "--at", at, "--rolls", "1x120", "--tank", "tall-five"]);
        run.fails(1).1
    };
    let cold = shelf("17.9C");
    for words in ["develop has times for 18 °C to 24 °C", "to 18 °C, the nearest allowed", "--at 18C"] {
        assert!(cold.contains(words), "{words}: {cold}");
    }
    assert!(shelf("24.1C").contains("to 24 °C, the nearest allowed"));
    let within = refused(
        &trial(BENCH, "develop {\nin dev stock\ntime 3:15 at 37.8 C\nwithin 0.15 C\n}"),
        &["--at", "37.96C", "--rolls", "1"],
    );
    assert!(within.contains("37.65 °C to 37.95 °C"), "{within}");
}

/// The end is too cold and not the beginning, so a warmer beginning would not help.
#[test]
fn a_bath_that_ends_too_cold_is_reported_for_its_end() {
    let run = shelf().args(["card", "estuary-400-mq", "--rolls", "1x120", "--tank", "tall-five"]);
    let (_, told) = run.args(["--at", "20C", "--ending", "17C"]).fails(1);
    assert!(told.contains("17 °C") && told.contains("18 °C"), "{told}");
    assert!(!told.contains("is at 17 °C tonight") && !told.contains("--at 20C,develop=18C"), "{told}");
}

/// A stop, a fixer and a wash only work less well: the card warns, and nothing else is reported. Washing at 50 to 60 °F
/// takes three times as long, and below 50 °F (10 °C) it is not adequate: US Department of Defense, Nondestructive
/// Inspection Methods, T.O. 33B-1-1, 6.7.10.1.
#[test]
fn a_stop_a_fixer_or_a_wash_outside_its_temperatures_is_a_warning() {
    let steps = |own: &str| {
        format!(
            "stop {{\nin water\ntime 1:00\nbetween 18 C and 24 C\n}}
wash {{\nsoak 1:00 x 4\nbetween 18 C and 24 C\n{own}}}"
        )
    };
    let warnings = |own: &str, at: &str| -> Vec<String> {
        let schedule = made(&trial(BENCH, &steps(own)), &["--rolls", "1", "--at", at]);
        let texts = schedule["warnings"].as_array().unwrap().iter().map(|one| one["text"].as_str().unwrap());
        texts
            .filter(|text| text.contains("too ") || text.contains("not between"))
            .map(str::to_owned)
            .collect()
    };
    assert_eq!(warnings("", "20C"), [""; 0]);
    assert_eq!(warnings("", "20C,stop=26C"), ["stop is at 26 °C, too warm: it may be 18 °C to 24 °C"]);
    assert_eq!(
        warnings("", "20C,wash=10C"),
        ["wash is at 10 °C, too cold: it may be 18 °C to 24 °C; wash three times as long"]
    );
    assert_eq!(
        warnings("", "20C,wash=9.9C"),
        ["wash is at 9.9 °C, too cold: it may be 18 °C to 24 °C; water below 10 °C does not wash film clean"]
    );
    assert_eq!(warnings("", "20C,wash=60.1F").len(), 1);
    assert!(!warnings("", "20C,wash=60.1F").concat().contains("three times"));
    // The check has warned of a temperature that the step states.
    assert_eq!(warnings("at 12 C\n", "20C"), ["12 C is not between 18 C and 24 C"]);
}

/// `--at` for a step, then the step's own, then the evening's; without a name, for all of the kind.
#[test]
fn a_step_has_the_temperature_given_for_it() {
    let steps = "\
develop {\nin dev stock\ntime 3:00\nbetween 18 C and 40 C\n}
wash out {\nsoak 1:00 x 1\n}
wash {\nsoak 1:00 x 1\nat 25 C\n}
dry {\ntime 1 h\n}";
    let at = |at: &str| {
        let schedule = made(&trial(BENCH, steps), &["--rolls", "1", "--at", at]);
        let told = super::steps(&schedule).iter().map(|step| step["temperature_c"].clone());
        Value::from_iter(told)
    };
    assert_eq!(at("20C"), json!([20, 20, 25, null]));
    assert_eq!(at("20C,wash=22C"), json!([20, 22, 22, null]));
    assert_eq!(at("20C,wash-out=22.5C"), json!([20, 22.5, 25, null]));
    assert_eq!(at("20C,wash-out=22C,wash=23C"), json!([20, 22, 23, null]));
    assert_eq!(at("37.8C,wash=86F"), json!([37.8, 30, 30, null]));
}

/// From full: the pour lasts 25 s, then the 30 s, then 20 s. 10 s from full on; then every 15 s of that clock,
/// of which 15 s is at 40 s and 30 s is where the draining begins.
#[test]
fn a_clock_from_full_starts_when_the_tank_is_full() {
    let steps = "\
develop {\nin dev stock\ntime 2:00\nbetween 18 C and 24 C\nhandling 1:30\n}
stop {\nin acid stock\ntime 30 s\nclock from full\nagitate first 10 s, then 5 s every 15 s\n}
rest {\ntime 1:00\n}";
    let bench = format!("{BENCH}\nsolution acid {{\nrole stop\n}}");
    let schedule = made(&trial(&bench, steps), &["--rolls", "1", "--at", "20C"]);
    let (stop, rest) = (step(&schedule, 1), step(&schedule, 2));
    assert_eq!(
        events(step(&schedule, 0)),
        [("handle", 0, 90_000), ("pour", 90_000, 25_000), ("drain", 190_000, 20_000)]
    );
    assert_eq!(ms(stop, "start_ms"), 210_000);
    assert_eq!(ms(stop, "duration_ms"), 30_000);
    let wanted = [
        ("pour", 210_000, 25_000),
        ("agitate", 235_000, 10_000),
        ("agitate", 250_000, 5_000),
        ("drain", 265_000, 20_000),
    ];
    assert_eq!(events(stop), wanted);
    assert_eq!(events(rest), [("rest", 285_000, 60_000)]);
    assert_eq!(ms(&schedule, "total_ms"), 345_000);
    assert_eq!(schedule.get("drying_ms"), None);
}

#[test]
fn a_step_with_no_time_between_filling_and_draining_is_refused() {
    let lines = |time: &str| {
        trial(BENCH, &format!("develop {{\nin dev stock\ntime {time}\nbetween 18 C and 24 C\n}}"))
    };
    let args = ["--rolls", "1", "--at", "20C"];
    let told = refused(&lines("45 s"), &args);
    assert!(told.contains("no-time-left") && told.contains("clock from full"), "{told}");
    let moved = step(&made(&lines("46 s"), &args), 0).clone();
    assert_eq!(events(&moved), [("pour", 0, 25_000), ("drain", 26_000, 20_000)]);
}

/// Each scheme in 3:00, so full at 25 s and draining at 160 s.
#[test]
fn agitation_happens_only_while_the_tank_is_full_and_not_draining() {
    let moved = |scheme: &str| {
        let lines = format!("time 3:00\nbetween 18 C and 24 C\nagitate {scheme}");
        when(&develop(&lines, &["20C"]), "agitate")
    };
    assert_eq!(moved("continuous"), [(25_000, 135_000)]);
    assert_eq!(moved("none"), []);
    assert_eq!(moved("rotary 60 rpm"), [(25_000, 135_000)]);
    // A start during the pour moves to full; agitation that would run into draining is cut.
    assert_eq!(moved("at 0:00, 2:30 for 30 s"), [(25_000, 30_000), (150_000, 10_000)]);
    // 'First a minute' ends at 1:25, so of each minute 2:00 is the first that is later.
    assert_eq!(moved("first 1 min, then 10 s every 1 min"), [(25_000, 60_000), (120_000, 10_000)]);
    // Without 'first' it moves at full; 25 s to 30 s and 30 s to 35 s meet and are one.
    assert_eq!(
        moved("5 s every 30 s"),
        [(25_000, 10_000), (60_000, 5_000), (90_000, 5_000), (120_000, 5_000), (150_000, 5_000)]
    );
    // 4 inversions are 10 s; at 2:36 four seconds are left, and so one whole inversion of 2.5 s.
    assert_eq!(moved("at 1:00, 2:36 for 4 inversions"), [(60_000, 10_000), (156_000, 2_500)]);
    assert_eq!(moved("at 1:00 for 4 inversions, inversion 4 s"), [(60_000, 16_000)]);
    // 1.5 s are left: no whole inversion.
    assert_eq!(moved("at 1:00, 158.5 s for 4 inversions"), [(60_000, 10_000)]);
}

#[test]
fn a_knock_follows_each_agitation_except_during_draining() {
    let knocked = |scheme: &str| {
        let lines = format!("time 3:00\nbetween 18 C and 24 C\nagitate {scheme}");
        when(&develop(&lines, &["20C"]), "knock")
    };
    let each = "at 1:00, 2:30 for 10 s, knock after each";
    assert_eq!(knocked(each), [(70_000, 0)], "the second ends where the draining begins");
    assert_eq!(
        knocked("first 10 s, then 5 s every 1 min, knock after each"),
        [(35_000, 0), (65_000, 0), (125_000, 0)]
    );
    assert_eq!(knocked("first 10 s, then 5 s every 1 min, knock once"), [(35_000, 0)]);
}

#[test]
fn agitation_is_listed_with_its_motion_and_count() {
    let told = |scheme: &str| {
        let lines = format!("time 3:00\nbetween 18 C and 24 C\nagitate {scheme}");
        develop(&lines, &["20C"])["events"][1].clone()
    };
    assert_eq!(
        told("rotary 60 rpm"),
        json!({ "leg": 1, "at_ms": 25_000, "for_ms": 135_000, "do": "agitate", "by": "rotary", "count": 60 })
    );
    assert_eq!(
        told("first 4 inversions"),
        json!({ "leg": 1, "at_ms": 25_000, "for_ms": 10_000, "do": "agitate", "by": "inversion", "count": 4 })
    );
    assert_eq!(
        told("first 30 s, by rocking"),
        json!({ "leg": 1, "at_ms": 25_000, "for_ms": 30_000, "do": "agitate", "by": "rocking" })
    );
}

/// The chart ends at 24 °C and the band at 26 °C: a bath of 27 °C is past both, and only 24 °C works.
#[test]
fn a_bath_outside_both_chart_and_band_is_reported_once() {
    let develop = "develop {\nin own\nbetween 18 C and 26 C\nchart {\n20 C 10:00\n24 C 7:00\n}\n}";
    let own = "solution own {\nrole developer\ncontains metol\nneeds 100 ml per roll\n}";
    let text = trial(own, develop);
    let warm = refused(&text, &["--at", "27C", "--rolls", "1x120", "--volume", "500ml"]);
    assert_eq!(warm.matches("error[").count(), 1, "{warm}");
    assert!(warm.contains("outside-chart") && warm.contains("bring the bath to 24 °C"), "{warm}");
    // A bath that starts inside and leaves both is reported once as well.
    let falling =
        refused(&text, &["--at", "21C", "--ending", "17C", "--rolls", "1x120", "--volume", "500ml"]);
    assert_eq!(falling.matches("error[").count(), 1, "{falling}");
    // If the band is narrower, the band is reported: 21 °C works, and the chart's 20 °C would not.
    let narrow = trial(own, &develop.replace("18 C and 26 C", "21 C and 26 C"));
    let cold = refused(&narrow, &["--at", "19C", "--rolls", "1x120", "--volume", "500ml"]);
    assert_eq!(cold.matches("error[").count(), 1, "{cold}");
    assert!(cold.contains("outside-band") && cold.contains("bring the bath to 21 °C"), "{cold}");
}
