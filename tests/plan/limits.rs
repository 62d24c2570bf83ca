//! What one load can be: the limits of each format, a roll that fits no tank, the temperature at the end, and the tank.

use serde_json::Value;

use super::{BENCH, json, loads, planned, rolls, with};

/// Five of 120 fill five reels; seven of 24 exposures are seven of eight and need 4 2/3 rolls of the developer. A limit
/// on the film of one format must not count for the other.
#[test]
fn the_limit_of_one_format_does_not_bind_another() {
    let thirsty = BENCH.replace("needs     60 ml", "needs     125 ml");
    let rows = format!("{}{}", rolls(5, 'E', "120", "marsh-100"), rolls(7, 'K', "135-24", "marsh-100"));
    let plan = planned(with(&rows).file("bench.wet", thirsty));
    assert_eq!((loads(&plan).len(), &plan["is_fewest"]), (2, &true.into()));
}

/// A roll of 220 needs 2 x 125 ml at 1+3, a litre, and a litre of the tank treats ten rolls; the fixer of one reel treats
/// two rolls only if a litre treats four.
#[test]
fn a_roll_that_fits_no_tank_leaves_the_others_planned() {
    let weak = BENCH.replace("treats    10 rolls", "treats    3 rolls");
    let rows = format!("{}{}", rolls(1, 'L', "220", "marsh-100"), rolls(2, 'E', "120", "marsh-100"));
    let run = with(&rows).file("bench.wet", weak).args(["plan", "autumn", "--as", "json"]);
    let plan: Value = serde_json::from_str(&run.fails(1).0).unwrap();
    assert_eq!(loads(&plan), [["E1", "E2"]]);
    assert_eq!(plan["left_out"][0]["reasons"][0]["name"], "bath-over-capacity");
    assert_eq!(plan["left_out"][0]["rolls"][0]["label"], "L1");
}

/// The baths may be at 18 to 24 °C, at the end too.
#[test]
fn a_plan_is_for_the_temperature_at_the_end_as_a_card_is() {
    let run = || with(&rolls(2, 'E', "120", "marsh-100")).args(["plan", "autumn", "--at", "20C", "--ending"]);
    let text = run().arg("19C").succeeds();
    assert!(text.contains("20 °C (68 °F), ending at 19 °C (66.2 °F)"), "{text}");
    assert_eq!(json(&run().args(["19C", "--as", "json"]))["ending_c"], 19);
    let told = run().arg("17C").fails(1).1;
    assert!(told.contains("error[outside-band]") && told.contains("17 °C"), "{told}");
}

#[test]
fn a_tank_that_was_not_named_is_said_where_there_is_another() {
    let run = with(&rolls(2, 'E', "120", "marsh-100")).args(["plan", "autumn", "--at", "20C"]);
    assert!(!run.succeeds().contains("no tank was named"));
    let other = "wetside 1\ntank other {\n    reels 120 x 1, 500 ml each\n}\n";
    let run = run.file("other.wet", other);
    let text = run.succeeds();
    assert!(
        text.contains("no tank was named; this plan is for five, the only one of the backlog's file"),
        "{text}"
    );
    let run = run.again().args(["plan", "autumn", "--at", "20C", "--tank", "five", "--as", "json"]);
    assert_eq!(json(&run)["assumed"], serde_json::json!([]));
    let run = run.again().args(["plan", "autumn", "--at", "20C", "--as", "json"]);
    assert_eq!(json(&run)["assumed"], serde_json::json!(["tank"]));
}
