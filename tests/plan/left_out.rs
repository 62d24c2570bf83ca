//! Rolls that cannot have a load tonight are reported, and the others are planned.

use serde_json::{Value, json as value};

use super::{BENCH, loads, rolls, with};
use crate::program::Run;

/// Two rolls for 19 °C, and two whose developer needs at least 20 °C.
pub(super) fn run() -> Run {
    let bench = BENCH.replace("13:00\n        between   18 C", "13:00\n        between   20 C");
    assert_ne!(bench, BENCH);
    let rows = format!("{}{}", rolls(2, 'M', "120", "marsh-100"), rolls(2, 'W', "120", "weir-400"));
    with(&rows).file("bench.wet", bench)
}

#[test]
fn rolls_that_cannot_be_developed_tonight_are_left_out_with_the_reason() {
    let (out, told) = run().args(["plan", "autumn", "--at", "19C", "--as", "json"]).fails(1);
    let plan: Value = serde_json::from_str(&out).unwrap();
    let schema: Value = serde_json::from_str(include_str!("../../grammar/plan.schema.json")).unwrap();
    jsonschema::validate(&schema, &plan).unwrap();
    assert_eq!(loads(&plan), [["M1", "M2"]]);
    let left = &plan["left_out"][0];
    assert_eq!(left["reasons"][0]["name"], "outside-band");
    assert_eq!(
        left["rolls"],
        value!([
            { "label": "W1", "film": "weir-400", "format": "120", "index": 400 },
            { "label": "W2", "film": "weir-400", "format": "120", "index": 400 },
        ])
    );
    assert!(told.contains("warning[rolls-left-out]: 2 rolls are left out of this plan: W1, W2"), "{told}");
    assert!(told.contains("error[outside-band]"), "{told}");
    run().args(["plan", "autumn", "--at", "20C"]).succeeds();
}

#[test]
fn every_form_of_a_plan_names_what_is_left_out() {
    let (text, _) = run().args(["plan", "autumn", "--at", "19C"]).fails(1);
    assert!(text.contains("no load for 2 rolls") && text.contains("\nLEFT OUT -"), "{text}");
    let (table, _) = run().args(["plan", "autumn", "--at", "19C", "--as", "csv"]).fails(1);
    let mut reader = csv::Reader::from_reader(table.as_bytes());
    let rows: Vec<Vec<String>> =
        reader.records().map(|row| row.unwrap().iter().map(str::to_owned).collect()).collect();
    let told: Vec<(&str, &str, bool)> =
        rows.iter().map(|row| (row[0].as_str(), row[2].as_str(), row[11].is_empty())).collect();
    assert_eq!(told, [("1", "M1", true), ("1", "M2", true), ("", "W1", false), ("", "W2", false)]);
    let run = run().args(["plan", "autumn", "--at", "19C", "-o", "plan.html"]);
    run.fails(1);
    let page = std::fs::read_to_string(run.folder().join("plan.html")).unwrap();
    assert!(page.contains("<h2>Left out</h2>") && page.contains("<b>W2</b>"), "{page}");
    assert_eq!(page.matches("<input").count(), 2);
}

#[test]
fn a_format_that_the_tank_does_not_take_waits_for_another_tank() {
    let rows = "roll \"A\" 120 of marsh-100\nroll \"B\" 4x5in of marsh-100\nroll \"C\" 4x5in of weir-400\n";
    let (out, told) = with(rows).args(["plan", "autumn", "--as", "json"]).fails(1);
    let plan: Value = serde_json::from_str(&out).unwrap();
    assert_eq!(loads(&plan), [["A"]]);
    assert_eq!(plan["left_out"].as_array().unwrap().len(), 1);
    assert!(told.contains("warning[rolls-left-out]: 2 rolls are left out of this plan: B, C"), "{told}");
    assert!(told.contains("error[roll-does-not-fit]: 'five' has no reels for 4x5in"), "{told}");
}

#[test]
fn rolls_without_a_recipe_are_left_out_too() {
    let rows = "roll \"A\" 120 of marsh-100\nroll \"B\" 120 of reed-100 index 400\n";
    let (out, told) = with(rows).args(["plan", "autumn"]).fails(1);
    assert!(out.contains("there is no recipe for this roll: reed-100 at 400"), "{out}");
    assert!(told.contains("error[no-recipe-for-rolls]"), "{told}");
}

/// A call without a temperature gets a warning with the assumed one; `--at` removes it.
#[test]
fn an_assumed_temperature_is_reported() {
    let run = || with(&rolls(1, 'E', "120", "marsh-100")).args(["plan", "autumn"]);
    let sentence = "no temperature was given; this plan is for 20 °C (68 °F)";
    assert!(run().succeeds().contains(&format!("WARNINGS\n  ! {sentence}\n")));
    assert!(run().args(["--as", "html"]).succeeds().replace('\u{a0}', " ").contains(sentence));
    let assumed = |run: Run| super::json(&run.args(["--as", "json"]))["assumed"].clone();
    assert_eq!(assumed(run()), value!(["temperature_c"]));
    assert_eq!(assumed(run().args(["--at", "20C"])), value!([]));
}

/// Of the volume of a tank 42 rolls take a seventh each, 35 a third, 49 a fifth, 36 and 51 a half: 6 + 11 2/3 + 9 4/5 + 18
/// + 25 1/2 are 70 29/30 tanks. It is not known whether 71 are possible, so the plan does not say so.
#[test]
fn the_bound_is_shown_if_the_fewest_loads_are_not_proven() {
    let bench = BENCH.replace(
        "    reels     120 x 5, 500 ml each\n    reels     135 x 8, 300 ml each\n    holds     2.6 l",
        "    reels     135 x 7, 400 ml each\n    reels     120 x 3, 400 ml each\n    reels     135-24 x 5, 400 ml each\n    reels     220 x 2, 400 ml each\n    reels     4x5in x 2, 400 ml each\n    holds     9 l",
    );
    let counts =
        [(42, 'K', "135"), (35, 'E', "120"), (49, 'S', "135-24"), (36, 'L', "220"), (51, 'P', "4x5in")];
    let rows: String =
        counts.iter().map(|(count, first, format)| rolls(*count, *first, format, "marsh-100")).collect();
    let plan = super::json(&with(&rows).file("bench.wet", &bench).args(["plan", "autumn", "--as", "json"]));
    let found = loads(&plan).len();
    assert_eq!((&plan["bound"], &plan["is_fewest"]), (&value!(71), &value!(false)));
    assert!((72..=73).contains(&found), "{found}");
    let text = with(&rows).file("bench.wet", &bench).args(["plan", "autumn"]).succeeds();
    assert!(text.contains(&format!("  loads    {found}; at least 71 are needed\n")), "{text}");
}

#[test]
fn a_second_name_without_a_file_is_an_error() {
    let (_, error) = run().args(["plan", "autumn", "winter", "--at", "19C"]).fails(2);
    assert!(error.contains("unexpected second name 'winter'"), "{error}");
}
