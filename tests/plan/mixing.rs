//! What a plan says to have, to buy and to mix, the mixing day, its labels, and the calendar; worked by hand.

use jsonschema::draft202012;
use serde_json::{Value, json as value};

use super::{BENCH, json, rolls, with};
use crate::program::Run;
use crate::readers::{calendar, value as property};

/// The bench with a formula for the developer, and this many rolls of 120. A load of five is 2.5 l at 1+3, of which
/// 625 ml are stock.
fn bench(count: usize, darkroom: &str) -> Run {
    let bought = "    contains  metol, sodium-sulfite\n    needs     60 ml per roll";
    let formula = "    needs     60 ml per roll\n    formula for 1 l {\n        water           750 ml at 50 C\n        metol           2 g\n        sodium-sulfite  100 g anhydrous\n        water           to 1 l\n    }";
    let text = format!("wetside 1\n\nuse \"bench.wet\"\n\n{darkroom}");
    let run = with(&rolls(count, 'E', "120", "marsh-100"));
    run.file("bench.wet", BENCH.replace(bought, formula)).file("darkroom.wet", text)
}

/// A litre of the developer's stock, mixed on the second of November.
const STOCK: &str = "bath soup-a {\n    in soup stock\n    volume 1 l\n    mixed 2026-11-02\n}\n";
const ON: [&str; 6] = ["plan", "autumn", "--at", "20C", "--on", "2026-11-16"];

fn day(run: Run) -> Value {
    let text = run.args(["--mixing-day", "--as", "json"]).succeeds();
    let day: Value = serde_json::from_str(&text).unwrap();
    let schema: Value = serde_json::from_str(include_str!("../../grammar/mixing.schema.json")).unwrap();
    let wrong: Vec<String> =
        draft202012::new(&schema).unwrap().iter_errors(&day).map(|error| error.to_string()).collect();
    assert!(wrong.is_empty(), "{wrong:?}\n{text}");
    day
}

fn grams(day: &Value) -> Vec<(&str, f64)> {
    let all = day["ingredients"].as_array().unwrap().iter();
    all.map(|one| (one["what"].as_str().unwrap(), one["g"].as_f64().unwrap())).collect()
}

/// Two loads take 1250 ml of stock: 1.3 l in steps of 100 ml, with 2 g and 100 g to the litre.
#[test]
fn a_mixing_day_has_the_grams_of_all_loads() {
    let day = day(bench(10, "").args(ON));
    assert_eq!(grams(&day), [("metol", 2.6), ("sodium-sulfite", 130.0)]);
    assert_eq!(day["sheets"][0]["make_ml"], 1300);
    // 2.5 l of the fixer at 1+4 treat 25 rolls: one bath, before the first load, of 500 ml.
    assert_eq!(day["buy"], value!([{ "what": "fixer", "ml": 500 }]));
    assert_eq!((&day["baths"][0]["load"], &day["baths"][0]["volume_ml"]), (&1.into(), &2500.into()));
    assert_eq!(day["baths"].as_array().unwrap().len(), 1);
}

/// A litre of stock is there, so 250 ml are short and 300 ml are mixed. Of 500 ml fixer, 200 ml are there.
#[test]
fn what_is_on_hand_is_not_mixed_or_bought_again() {
    let on_hand = ["--on-hand", "fixer=200ml", "--on-hand", "metol=0.5g", "--package", "fixer=1l"];
    let run = || bench(10, STOCK).args(ON).args(on_hand);
    let day = day(run());
    assert_eq!(grams(&day), [("metol", 0.6), ("sodium-sulfite", 30.0)]);
    assert_eq!(day["ingredients"][0]["on_hand"], value!({ "g": 0.5 }));
    assert_eq!(day["ingredients"][0]["short"], value!({ "g": 0.1 }));
    assert_eq!((&day["buy"][0]["short_ml"], &day["buy"][0]["packages"]), (&300.into(), &1.into()));
    let plan = json(&run().args(["--as", "json"]));
    let soup = plan["take"].as_array().unwrap().iter().find(|one| one["what"] == "soup").unwrap();
    assert_eq!(
        soup,
        &value!({
            "what": "soup", "ml": 1250, "short_ml": 250, "mix_ml": 300,
            "on_hand": [{ "ml": 1000, "bottle": "soup-a", "mixed": "2026-11-02" }],
        })
    );
    // A stock that is poured away is not on hand.
    let gone = STOCK.replace("mixed 2026-11-02", "mixed 2026-11-02\n    discarded 2026-11-10");
    assert_eq!(grams(&self::day(bench(10, &gone).args(ON))), [("metol", 2.6), ("sodium-sulfite", 130.0)]);
}

#[test]
fn nothing_is_mixed_if_all_is_on_hand() {
    let run = bench(5, STOCK).args(ON).args(["--on-hand", "fixer=1l"]);
    let day = day(run);
    assert_eq!((&day["sheets"], &day["buy"], &day["safety"]), (&value!([]), &value!([]), &value!([])));
}

/// What is dangerous comes first, then what to have, then the loads.
#[test]
fn a_plan_says_what_to_have_before_its_loads() {
    let text = bench(10, STOCK).args(ON).args(["--on-hand", "fixer=200ml"]).succeeds();
    let at = |words: &str| text.find(words).unwrap_or_else(|| panic!("no {words:?} in {text}"));
    assert!(at("SAFETY") < at("\nHAVE\n") && at("\nHAVE\n") < at("LOAD 1"));
    let flat = text.split_whitespace().collect::<Vec<_>>().join(" ");
    for words in [
        "have 500 ml of fixer; on hand 200 ml, 300 ml to buy",
        "mix 300 ml of soup; on hand 1 l in soup-a of 2026-11-02; 1.25 l needed",
        "weigh metol 0.6 g · sodium-sulfite, anhydrous 30 g",
    ] {
        assert!(flat.contains(words), "no {words:?} in {text}");
    }
}

/// The reels stand in the tank as the plan lists them, the top first. The loads of a day dry side by side: three hours.
#[test]
fn a_load_is_drawn_as_a_stack() {
    let text = bench(10, "").args(ON).succeeds();
    let order: Vec<usize> = ["top      [ ]  5  E5", "[ ]  3  E3", "bottom   [ ]  1  E1"]
        .map(|words| text.find(words).unwrap_or_else(|| panic!("no {words:?} in {text}")))
        .to_vec();
    assert!(order.is_sorted(), "{text}");
    assert!(text.contains("drying   3:00:00 after each load"), "{text}");
    let run = bench(10, "").args(ON).args(["-o", "plan.html"]);
    run.succeeds();
    let page = std::fs::read_to_string(run.folder().join("plan.html")).unwrap();
    assert!(page.contains("<ol reversed>"), "{page}");
    assert_eq!(json(&bench(10, "").args(ON).args(["--as", "json"]))["drying_ms"], 10_800_000);
}

/// A mixing day as text.
pub(super) fn as_text() -> String {
    bench(10, "").args(ON).arg("--mixing-day").succeeds()
}

/// A label for the stock that is mixed, and one for the bath that serves both loads.
#[test]
fn each_bottle_to_mix_has_a_label() {
    let labels = bench(10, "").args(ON).args(["--as", "label"]).succeeds();
    assert!(labels.contains("SOUP, stock") && labels.contains("1.3 l"), "{labels}");
    assert!(labels.contains("FIXER, 1+4") && labels.contains("mixed 2026-11-16"), "{labels}");
    let run = bench(10, "").args(ON).args(["--as", "label", "-o", "labels.pdf"]);
    run.succeeds();
    assert!(std::fs::read(run.folder().join("labels.pdf")).unwrap().starts_with(b"%PDF"));
}

/// Two loads a week apart are two events of a day (RFC 5545).
#[test]
fn a_plan_is_a_calendar_if_it_has_days() {
    let days = ["--a-day", "1", "--every", "7", "--as", "ics"];
    let read = calendar(&bench(10, "").args(ON).args(days).succeeds());
    let of =
        |name: &str| read.events.iter().map(|event| property(&event.properties, name)).collect::<Vec<_>>();
    assert_eq!(of("DTSTART"), ["20261116", "20261123"]);
    assert_eq!(of("SUMMARY"), ["marsh\\, 5 rolls"; 2]);
    assert!(of("DESCRIPTION")[0].contains("E1\\, E2\\, E3\\, E4\\, E5"), "{:?}", of("DESCRIPTION"));
    assert_ne!(of("UID")[0], of("UID")[1]);
    let told = bench(10, "").args(["plan", "autumn", "--at", "20C", "--as", "ics"]).fails(2).1;
    assert!(told.contains("a calendar needs the days of the loads"), "{told}");
}

#[test]
fn an_amount_of_something_else_is_refused() {
    for (had, told) in [
        ("borax=50g", "this plan does not need 'borax'"),
        ("soup=50g", "this plan does not need 'soup'"),
        ("metol", "'metol' has no amount"),
        ("metol=much", "'metol=much' has no amount"),
    ] {
        let error = bench(5, "").args(ON).args(["--on-hand", had]).fails(2).1;
        assert!(error.contains(told), "{had}: {error}");
    }
}
