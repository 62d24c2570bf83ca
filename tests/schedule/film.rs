//! R12, R13 and R17: the load of a tank, the capacity of a bath, and the recipe for an index.

use serde_json::Value;

use super::{made, read, refused, step, trial};
use crate::evenings::shelf;

const DEVELOP: &str = "develop {\nin dev stock, one-shot\ntime 5:00\nbetween 18 C and 24 C\n}";
const DEV: &str = "solution dev {\nrole developer\ncontains metol\nneeds 100 ml per roll\n}";

/// 120 x 5 and 135 x 8.
fn in_tall_five(rolls: &str) -> String {
    let tank = "tank five {\nreels 120 x 5, 500 ml each\nreels 135 x 8, 300 ml each\nholds 2.6 l\n}";
    let text = trial(&format!("{DEV}\n{tank}"), DEVELOP);
    let run = super::run(&text, &["--at", "20C", "--rolls", rolls, "--as", "json"]);
    match rolls {
        "4x120+2x135" | "3x120+4x135" | "6x120" | "5x120+1x135" => run.fails(1).1,
        _ => run.succeeds(),
    }
}

/// 3 ÷ 5 + 2 ÷ 8 = 0.85; 3 ÷ 5 + 3 ÷ 8 = 0.975; 1 ÷ 5 + 6 ÷ 8 = 0.95; 5 ÷ 5 = 1. Over it: 4 ÷ 5 + 2 ÷ 8 = 1.05;
/// 3 ÷ 5 + 4 ÷ 8 = 1.1; 6 ÷ 5; 5 ÷ 5 + 1 ÷ 8.
#[test]
fn formats_may_be_mixed_up_to_a_full_tank() {
    for rolls in ["3x120+2x135", "3x120+3x135", "1x120+6x135", "5x120", "2x120+3x120", "1x220+6x135-24"] {
        let made: Result<Value, _> = serde_json::from_str(&in_tall_five(rolls));
        assert!(made.is_ok(), "{rolls}");
    }
    for rolls in ["4x120+2x135", "3x120+4x135", "6x120", "5x120+1x135"] {
        let told = in_tall_five(rolls);
        assert!(
            told.contains("load-does-not-fit") && told.contains("5 of 120, or 8 of 135"),
            "{rolls}: {told}"
        );
    }
}

/// 80 square inches are a roll: six sheets of 4 by 5 are 1.5, three 135 of 24 exposures are 2. At 100 ml a roll.
#[test]
fn film_is_counted_by_area() {
    let needed = |rolls: &str| {
        step(&made(&trial(DEV, DEVELOP), &["--at", "20C", "--rolls", rolls]), 0)["volume_ml"].clone()
    };
    let wanted = [
        ("6x4x5in", 150),
        ("1x120", 100),
        ("1x135", 100),
        ("1x220", 200),
        ("3x135-24", 200),
        ("2x8x10in", 200),
    ];
    for (rolls, volume) in wanted {
        assert_eq!(needed(rolls), volume, "{rolls}");
    }
    // 100 + 66.67 + 25 = 191.67.
    assert_eq!(needed("1x120+1x135-24+1x4x5in"), 195);
}

#[test]
fn a_plain_number_of_rolls_means_the_only_format_of_the_tank() {
    let tank = "tank sheets {\nreels 4x5in x 6, 160 ml each\n}";
    let schedule = made(&trial(&format!("{DEV}\n{tank}"), DEVELOP), &["--at", "20C", "--rolls", "4"]);
    assert_eq!(schedule["conditions"]["rolls"][0], serde_json::json!({ "count": 4, "format": "4x5in" }));
    assert_eq!(step(&schedule, 0)["volume_ml"], 640);
}

/// A tank that is always filled with a litre, and a bath of which a litre treats ten rolls.
fn in_a_litre(rolls: u32) -> (Vec<&'static str>, String, String) {
    let tank = "tank litre {\nreels 120 x 12, 80 ml each\nholds 1 l\nfill whole\n}";
    let steps = "fix {\nin fixer 1+4, reused\ntime 4:00\n}";
    (vec!["--at", "20C", "--as", "json", "--rolls"], rolls.to_string(), trial(tank, steps))
}

#[test]
fn film_over_nine_tenths_of_a_capacity_is_a_warning_and_over_all_of_it_an_error() {
    let doubts = |rolls: u32| {
        let (args, rolls, text) = in_a_litre(rolls);
        let schedule = made_once(&text, &[&args[..], &[&rolls]].concat());
        let doubts = schedule["warnings"].as_array().unwrap().iter();
        doubts.filter(|doubt| doubt["rule"] == "R13").count()
    };
    assert_eq!([8, 9, 10].map(doubts), [0, 1, 1]);
    let (args, rolls, text) = in_a_litre(11);
    let told = refused(&text, &[&args[..], &[&rolls]].concat());
    // Eleven rolls at ten to the litre.
    for words in
        ["bath-over-capacity", "treats 10 rolls", "11 rolls", "take at least 1.1 l", "load fewer rolls"]
    {
        assert!(told.contains(words), "{words}: {told}");
    }
}

fn made_once(text: &str, args: &[&str]) -> Value {
    read(&super::run(text, args))
}

/// 25 ml for each of 3 · 24 ÷ 36 = 2 rolls; to a whole millilitre, 25 · 4 ÷ 6 = 16.67.
#[test]
fn a_replenished_bath_is_topped_up_per_roll() {
    let dev =
        "solution dev {\nrole developer\ncontains metol\nneeds 100 ml per roll\nreplenish 25 ml per roll\n}";
    let added = |fate: &str, rolls: &str| {
        let develop = DEVELOP.replace("one-shot", fate);
        step(&made(&trial(dev, &develop), &["--at", "20C", "--rolls", rolls]), 0)["replenish_ml"].clone()
    };
    assert_eq!(added("replenished", "3x135-24"), 50);
    assert_eq!(added("replenished", "1x135-24"), 17);
    assert_eq!(added("reused", "3x135-24"), Value::Null);
}

#[test]
fn an_index_chooses_a_recipe_and_changes_no_time() {
    let evening = ["--at", "21C", "--rolls", "1x120", "--tank", "tall-five", "--as", "json"];
    let by = |first: &[&str]| {
        let run = first.iter().fold(shelf().arg("card"), |run, arg| run.arg(*arg));
        run.args(evening)
    };
    let named = by(&["estuary-400-mq-800"]).succeeds();
    assert_eq!(by(&["estuary-400-mq", "--index", "800"]).succeeds(), named);
    assert_eq!(by(&["recipes/estuary-400-mq.wet", "--index", "800"]).succeeds(), named);
    assert_eq!(read(&by(&["estuary-400-mq", "--index", "400"]))["recipe"]["name"], "estuary-400-mq");
    let (_, none) = by(&["estuary-400-mq", "--index", "200"]).fails(1);
    let words = none.split_whitespace().collect::<Vec<_>>().join(" ");
    let family = "estuary-400-mq (400), estuary-400-mq-800 (800), estuary-400-mq-1600 (1600)";
    assert!(words.contains("no-such-index") && words.contains(family), "{none}");
}

#[test]
fn two_recipes_with_one_index_are_both_listed() {
    let more = "recipe other from trial {\nindex 100\n}\n";
    let told = refused(
        &(trial(DEV, DEVELOP) + more),
        &["trial", "--at", "20C", "--rolls", "1x120", "--index", "100"],
    );
    let words = told.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(words.contains("index-twice") && words.contains("trial (100), other (100)"), "{told}");
}
