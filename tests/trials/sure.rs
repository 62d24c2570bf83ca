//! How sure a time is (R22): its parts by hand, `--why` and JSON, and the one line on the card.

use serde_json::Value;
use wetside::emit::json;
use wetside::model::StepKind;

use super::language::{MEASURED, TIGHT, WIDE, file, kitchen, schedule, shown};
use crate::kitchen::{Kitchen, step};

/// The worked example at 20 C: thermometer ±0.3 °C, pour ±5 s, agitation 2 %, the trial; here with the drift and the
/// dilution of the program. 1 °C is ln 2.091/10 = 7.375 % of the time.
#[test]
fn how_sure_a_time_is_adds_up() {
    let text = file(MEASURED, "by strips for contrast 0.57", WIDE).replacen(
        "wetside 2\n",
        "wetside 2\n\nthermometer within 0.3 C\n",
        1,
    );
    let kitchen = Kitchen::sound(&text);
    let schedule = schedule(&kitchen, "20");
    let doubt = step(&schedule, StepKind::Develop).doubt.clone().unwrap();
    let of = |what: &str| doubt.parts.iter().find(|part| part.what == what).unwrap();
    let near = |own: f64, hand: f64| assert!((own - hand).abs() < 0.0002, "{own} is not {hand}");
    // The chart falls from 7:23 at 18 C to 6:23 at 20 C: ln(443/383)/2 = 7.278 % for 1 °C.
    near(of("thermometer").share, 0.07278 * 0.3 / 1.7321);
    near(of("drift").share, 0.07278 * 0.25 / 1.7321);
    near(of("agitation").share, 0.02);
    near(of("pour").share, 5.0 / 1.7321 / 383.0);
    // 1+9: 0.9 x 1.414 x 1 %/1.732 x 1.2.
    near(of("dilution").share, 0.9 * 0.014142 / 1.7321 * 1.2);
    // Half of 7 s.
    near(of("trial").share, 3.5 / 383.0);
    let squares: f64 = doubt.parts.iter().map(|part| part.share * part.share).sum();
    near(doubt.share, 2.0 * squares.sqrt());
    assert!(!of("thermometer").is_assumed && of("drift").is_assumed);
    // 2 x 3.1 % is less than a print shows.
    assert!(!shown(&kitchen, "20").contains("thermometer: it may be off"));
}

/// A kitchen thermometer of ±1.5 °C: 2 x 7.278 % x 1.5/1.732 = 12.6 % of 383 s are 48 s.
#[test]
fn only_what_a_print_shows_is_on_the_card() {
    let with = |line: &str| {
        let text = file(MEASURED, "by strips for contrast 0.57", WIDE).replacen(
            "wetside 2\n",
            &format!("wetside 2\n\n{line}\n"),
            1,
        );
        shown(&Kitchen::sound(&text), "20")
    };
    let told = with("thermometer within 1.5 C");
    let words = "thermometer: it may be off by 1.5 °C, which is 48 s of DEVELOP; compare it with a second one, or stand the tank in water of 20 °C";
    assert!(told.contains(words), "{told}");
    assert!(!with("").contains("thermometer:"));
    // The trial was made with the same thermometer, so its error is in both.
    let own = "thermometer \"the kitchen one\" within 1.5 C";
    let text = file(
        &MEASURED.replace("    within    0.01", &format!("    {own}\n    within    0.01")),
        "by strips for contrast 0.57",
        WIDE,
    );
    let same =
        shown(&Kitchen::sound(&text.replacen("wetside 2\n", &format!("wetside 2\n\n{own}\n"), 1)), "20");
    assert!(!same.contains("thermometer: it may be off"), "{same}");
}

/// The same sum in `--why` and JSON, with the contrast. The parts are 1.261, 1.051, 2.000, 0.754, 0.882 and 0.914 %, the
/// root of their squares 2.979 %: twice that is 22.8 s of 383 s. The contrast rises by 0.166 x (0.9575 - 0.57) = 0.0643 a
/// minute, so 0.380 min are 0.0245.
#[test]
fn why_and_json_have_the_effect_on_time_and_contrast() {
    let text = file(MEASURED, "by strips for contrast 0.57", WIDE).replacen(
        "wetside 2\n",
        "wetside 2\n\nthermometer within 0.3 C\n",
        1,
    );
    let kitchen = Kitchen::sound(&text);
    let schedule = schedule(&kitchen, "20");
    let json: Value = serde_json::from_str(&json(&schedule, &kitchen.sources)).unwrap();
    let sure = &json["steps"][0]["give_or_take"];
    let near = |value: &Value, hand: f64, within: f64| {
        assert!((value.as_f64().unwrap() - hand).abs() <= within, "{value} is not {hand}");
    };
    near(&sure["ms"], 22_800.0, 200.0);
    near(&sure["share"], 0.0596, 0.0006);
    near(&sure["contrast"], 0.0245, 0.0006);
    let cause = |what: &str| {
        let all = sure["causes"].as_array().unwrap();
        all.iter().find(|cause| cause["what"] == what).unwrap().clone()
    };
    // 2.000² of 2.979² is 45 %, 1.261² is 18 %.
    near(&cause("agitation")["share"], 0.451, 0.004);
    near(&cause("thermometer")["share"], 0.179, 0.004);
    for (what, is_assumed) in [
        ("thermometer", false),
        ("trial", false),
        ("drift", true),
        ("agitation", true),
        ("pour", true),
        ("dilution", true),
    ] {
        assert_eq!(cause(what)["assumed"] == true, is_assumed, "{what}");
    }
    let because = step(&schedule, StepKind::Develop).because.iter().find(|one| one.rule == "R22").unwrap();
    let words = &because.text;
    assert!(
        words.contains("give or take 23 s (6.0 %, 95 %)") && words.contains("agitation 45 % (2 %, assumed)"),
        "{words}"
    );
    assert!(words.contains("thermometer 18 % (0.3 °C)") && words.contains("of contrast"), "{words}");
}

/// A time of 8:00 at 20 C in a solution with this rate, in a darkroom with this line at the head of its file.
fn by_rate(rate: &str, line: &str, more: &str) -> String {
    let text = file("", "8:00 at 20 C", TIGHT)
        .replace(
            "    needs     5 ml per roll\n",
            &format!("    needs     5 ml per roll\n    rate      {rate} per 10 C\n"),
        )
        .replace("contains  metol, sodium-sulfite", &format!("contains  metol, sodium-sulfite{more}"));
    shown(&Kitchen::sound(&text.replacen("wetside 2\n", &format!("wetside 2\n\n{line}\n"), 1)), "20")
}

/// At a rate of 4, 1 °C is ln 4/10 = 13.86 %: 0.5 °C is 4.002 %, a drift of 0.25 °C 2.001 %, with 2 % for agitation, 5 s
/// of 480 s 0.601 %, and the dilution 0.882 % the root is 5.016 %: twice that is 10.03 %. The thermometer's part is twice
/// 4.002 % of 480 s: 38 s. At a rate of 3.9 all are 4.943 %, so 9.89 %.
#[test]
fn the_line_begins_at_a_tenth_and_says_what_is_assumed() {
    let told = by_rate("4", "", "");
    let words = "thermometer: it may be off by 0.5 °C, assumed, which is 38 s of DEVELOP; compare it with a second one";
    assert!(told.contains(words), "{told}");
    assert!(!by_rate("3.9", "", "").contains("thermometer:"));
    // A declared thermometer is not assumed: at 0.3 °C it is 2.401 %, and all are 3.837 %.
    assert!(!by_rate("4", "thermometer within 0.3 C", "").contains("thermometer:"));
    let stated = by_rate("4", "thermometer within 0.6 C", "");
    assert!(stated.contains("thermometer: it may be off by 0.6 °C, which is 46 s of DEVELOP"), "{stated}");
}

/// In colour the line begins at 3 %: at a rate of 2, 0.5 °C is 2.001 % (6.93 % for 1 °C), the greatest part. With a
/// thermometer of 0.1 °C, 0.4 %, the agitation is: nothing that a person can state would end that line, so there is none.
#[test]
fn in_colour_the_line_begins_at_three_percent() {
    let colour = ", colour-developing-agent";
    let told = by_rate("2", "", colour);
    assert!(
        told.contains("thermometer: it may be off by 0.5 °C, assumed, which is 19 s of DEVELOP"),
        "{told}"
    );
    assert!(!by_rate("2", "", "").contains("thermometer:"));
    let exact = by_rate("2", "thermometer within 0.1 C", colour);
    assert!(!exact.contains("thermometer:") && !exact.contains("agitation:"), "{exact}");
}

/// A time by eye has no contrast, and no part of the thermometer where nothing says how it depends on the temperature.
#[test]
fn a_time_by_eye_alone_says_nothing_of_degrees() {
    let kitchen = kitchen(super::language::BY_EYE, "by wall", TIGHT);
    assert_eq!(step(&schedule(&kitchen, "20"), StepKind::Develop).doubt, None);
}
