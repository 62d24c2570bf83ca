//! Plans over days: baths that expire between loads, and the bottles that are good on the day; worked by hand.

use serde_json::{Value, json as value};

use super::{BENCH, json, rolls, with};
use crate::program::Run;

/// A fixer that keeps fourteen days, mixed on the second of November: it is good up to the sixteenth.
fn keeping() -> String {
    BENCH.replace("    treats    10 rolls", "    keeps     14 days\n    treats    10 rolls")
}

/// This many rolls of 120, five to a load, with this darkroom.
fn darkroom(count: usize, bench: &str, own: &str) -> Run {
    let text = format!("wetside 1\n\nuse \"bench.wet\"\n\n{own}");
    with(&rolls(count, 'E', "120", "marsh-100")).file("bench.wet", bench).file("darkroom.wet", text)
}

/// A bottle of 2.5 l of the fixer that has treated this many rolls of 120 by the third of November.
fn bottle(name: &str, treated: usize) -> String {
    let slots: String = (1..=treated).map(|slot| format!("    slot {slot} 120\n")).collect();
    let session = format!(
        "session of-{name} {{\n    date 2026-11-03\n    recipe marsh, fingerprint \"46ac83d1\"\n{slots}    bath {name}\n}}\n"
    );
    let session = if treated > 0 { session } else { String::new() };
    format!("bath {name} {{\n    in fixer 1+4\n    volume 2.5 l\n    mixed 2026-11-02\n}}\n{session}")
}

fn planned<const N: usize>(run: Run, more: [&str; N]) -> Value {
    json(&run.args(["plan", "autumn", "--as", "json", "--at", "20C"]).args(more))
}

/// Whether the fixer is mixed for each load, and why.
fn made(plan: &Value) -> Vec<Option<&str>> {
    let loads = plan["loads"].as_array().unwrap().iter();
    loads.map(|load| load["mix"].get(0).map(|mix| mix["because"].as_str().unwrap_or("first"))).collect()
}

/// The fixer's bottle of each load.
fn fixed_from(plan: &Value) -> Vec<&str> {
    let of =
        |load: &Value| load["baths"].as_array().unwrap().iter().find(|bath| bath["step"] == "fix").cloned();
    let loads = plan["loads"].as_array().unwrap().iter();
    loads
        .map(|load| {
            if of(load).unwrap()["bottle"].is_null() {
                "-"
            } else {
                load["baths"][1]["bottle"].as_str().unwrap()
            }
        })
        .collect()
}

/// Twenty rolls are four loads and no more than 2.5 l treat. Made on the second and kept until the sixteenth, the
/// fixer does for the loads of the second, the ninth and the sixteenth, and not for that of the twenty-third.
#[test]
fn a_bath_that_expires_between_loads_is_mixed_again() {
    let run = || darkroom(20, &keeping(), "");
    let plan = planned(run(), ["--on", "2026-11-02", "--a-day", "1", "--every", "7"]);
    assert_eq!(made(&plan), [Some("first"), None, None, Some("past keeping")]);
    let days: Vec<&Value> = plan["loads"].as_array().unwrap().iter().map(|load| &load["on"]).collect();
    assert_eq!(days, ["2026-11-02", "2026-11-09", "2026-11-16", "2026-11-23"]);
    assert_eq!(plan["take"][0], value!({ "what": "fixer", "ml": 1000 }));
    assert_eq!(made(&planned(run(), [])), [Some("first"), None, None, None]);
    // Two a day, and days that follow each other: the second and the third.
    let plan = planned(run(), ["--on", "2026-11-02", "--a-day", "2"]);
    assert_eq!(made(&plan), [Some("first"), None, None, None]);
    assert_eq!(plan["loads"][3]["on"], "2026-11-03");
}

#[test]
fn a_bottle_past_keeping_is_not_used() {
    let run = || darkroom(5, &keeping(), &bottle("fix-a", 0));
    let plan = planned(run(), ["--on", "2026-11-16"]);
    assert_eq!((made(&plan), fixed_from(&plan)), (vec![None], vec!["fix-a"]));
    assert_eq!((&plan["on"], &plan["idle"]), (&value!("2026-11-16"), &value!([])));
    let plan = planned(run(), ["--on", "2026-11-17"]);
    assert_eq!((made(&plan), fixed_from(&plan)), (vec![Some("first")], vec!["-"]));
    assert_eq!(plan["idle"], value!([{ "bottle": "fix-a", "because": "past keeping" }]));
    // It expires between the two loads.
    let plan = planned(darkroom(10, &keeping(), &bottle("fix-a", 0)), ["--on", "2026-11-16", "--a-day", "1"]);
    assert_eq!((made(&plan), fixed_from(&plan)), (vec![None, Some("first")], vec!["fix-a", "-"]));
}

/// 2.5 l treat 25 rolls.
#[test]
fn a_spent_discarded_or_future_bottle_is_not_used() {
    let plan = planned(darkroom(5, BENCH, &bottle("fix-a", 25)), ["--on", "2026-11-16"]);
    assert_eq!((made(&plan), fixed_from(&plan)), (vec![Some("first")], vec!["-"]));
    assert_eq!(plan["idle"], value!([{ "bottle": "fix-a", "because": "spent" }]));
    let gone = bottle("fix-a", 0).replace("mixed 2026-11-02", "mixed 2026-11-02\n    discarded 2026-11-10");
    let plan = planned(darkroom(5, BENCH, &gone), ["--on", "2026-11-16"]);
    assert_eq!((made(&plan), &plan["idle"]), (vec![Some("first")], &value!([])));
    let plan = planned(darkroom(5, BENCH, &bottle("fix-a", 0)), ["--on", "2026-11-01"]);
    assert_eq!(plan["idle"], value!([{ "bottle": "fix-a", "because": "it is not made yet" }]));
}

/// The first has treated twenty of 25 rolls, so it is good for one load of five; the second is fresh.
#[test]
fn an_open_bottle_is_used_up_before_the_next() {
    let own = bottle("fix-a", 20) + &bottle("fix-b", 0).replace("2026-11-02", "2026-11-05");
    let plan = planned(darkroom(15, BENCH, &own), ["--on", "2026-11-16"]);
    assert_eq!((made(&plan), fixed_from(&plan)), (vec![None; 3], vec!["fix-a", "fix-b", "fix-b"]));
    // A bottle of the darkroom need not be bought: only the developer, 7.5 l at 1+3.
    assert_eq!(plan["take"], value!([{ "what": "soup", "ml": 1875 }]));
    // Both bottles are poured away in the end.
    let fixer = plan["waste"].as_array().unwrap().iter().find(|one| one["solution"] == "fixer").unwrap();
    assert_eq!((&fixer["ml"], &fixer["when"]), (&value!(5000), &value!("once it is spent")));
}

/// A fresh fixer clears in 60 s, and three times that is 3:00. Tested at 70 s it is 3:30, half a minute more. Double
/// the fresh time and more, it is exhausted (US Navy, Photography (Basic), NAVEDTRA 14209, 1993, chapter 10).
#[test]
fn the_newest_test_of_a_bottle_decides_a_load_s_fixing_time() {
    let run = |time: &str, warmth: &str| {
        let test = format!(
            "test t {{\n    date 2026-11-10\n    bath fix-a\n    film marsh-100\n    clears {time} at {warmth}\n}}\n"
        );
        darkroom(5, BENCH, &(bottle("fix-a", 0) + &test))
    };
    let total = |plan: &Value| plan["loads"][0]["total_ms"].as_i64().unwrap();
    let (before, after) = (
        planned(run("70 s", "20 C"), ["--on", "2026-11-09"]),
        planned(run("70 s", "20 C"), ["--on", "2026-11-10"]),
    );
    assert_eq!(total(&after) - total(&before), 30_000);
    assert_eq!(fixed_from(&after), ["fix-a"]);
    let plan = planned(run("2:00", "20 C"), ["--on", "2026-11-10"]);
    assert_eq!((fixed_from(&plan), total(&plan)), (vec!["-"], total(&before)));
    assert_eq!(plan["idle"], value!([{ "bottle": "fix-a", "because": "clears in twice the fresh time" }]));
    // More than 2 °C colder than the test, R11 tells nothing of it; a bath is made then.
    let plan = planned(run("70 s", "22.5 C"), ["--on", "2026-11-10"]);
    assert_eq!((made(&plan), total(&plan)), (vec![Some("first")], total(&before)));
}

/// Ten per cent more for each four rolls that it has treated: after five rolls once, after ten twice.
#[test]
fn a_kept_developer_extends_its_time_from_load_to_load() {
    let kept = BENCH.replace("soup 1+3, one-shot", "soup 1+3, reused");
    let kept = kept.replace(
        "    needs     60 ml per roll",
        "    needs     60 ml per roll\n    extend    10 % per 4 rolls",
    );
    let plan = planned(darkroom(15, &kept, ""), []);
    let times: Vec<&Value> =
        plan["loads"].as_array().unwrap().iter().map(|load| &load["develop_ms"]).collect();
    assert_eq!(times, [600_000, 660_000, 720_000]);
}

#[test]
fn the_day_is_shown_only_if_the_plan_depends_on_it() {
    let plan = planned(darkroom(5, BENCH, ""), []);
    assert_eq!((&plan["on"], &plan["assumed"]), (&Value::Null, &value!([])));
    let plan = planned(darkroom(5, BENCH, &bottle("fix-a", 0)), []);
    assert!(plan["on"].is_string());
    assert_eq!(plan["assumed"], value!(["on"]));
}

/// Two loads, fifteen days apart, beside a bottle that is spent.
pub(super) fn over_days() -> Run {
    let run = darkroom(10, &keeping(), &bottle("fix-a", 25));
    run.args(["plan", "autumn", "--at", "20C", "--on", "2026-11-16", "--a-day", "1", "--every", "15"])
}
