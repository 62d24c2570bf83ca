//! The water of a plan, the amounts and packages to have, and the warnings of its cards; worked by hand.

use serde_json::Value;

use super::{BENCH, json, planned, rolls, with};

/// A load of five takes 2.5 l at 1+3, of which a quarter is developer: 625 ml. Eleven such loads and one roll in 500 ml
/// are 6875 + 125 = 7000 ml; nine are 5625 ml, so that 5.6 l is too little.
#[test]
fn an_amount_to_buy_is_never_rounded_down() {
    let text = |count| with(&rolls(count, 'E', "120", "marsh-100")).args(["plan", "autumn"]).succeeds();
    assert!(text(56).contains("  have     7 l of soup\n"));
    assert!(text(45).contains("  have     5.625 l of soup\n"));
    assert!(text(5).contains("  have     625 ml of soup\n"));
}

/// Five rolls: 2.5 l of developer at 1+3 are 1875 ml of water, the fixer at 1+4 is 2000 ml, and two changes of 2.5 l wash.
#[test]
fn the_water_of_mixed_baths_is_counted() {
    assert_eq!(planned(with(&rolls(5, 'E', "120", "marsh-100")))["water_ml"], 1875 + 2000 + 5000);
    // The second load fixes in the same.
    assert_eq!(planned(with(&rolls(10, 'E', "120", "marsh-100")))["water_ml"], 2 * 6875 + 2000);
}

/// 25 ml to a roll: five rolls and one, 125 ml and 25 ml. A bottle of the bath is not its replenisher.
#[test]
fn a_replenisher_is_in_the_amounts_to_have() {
    let bench = BENCH
        .replace(
            "    needs     60 ml per roll\n",
            "    needs     60 ml per roll\n    replenish 25 ml per roll\n",
        )
        .replace("soup 1+3, one-shot", "soup stock, replenished");
    let run = with(&rolls(6, 'E', "120", "marsh-100")).file("bench.wet", bench);
    let run = run.args(["plan", "autumn", "--as", "json", "--package", "soup=1l"]);
    let plan = json(&run);
    let soup: Vec<&Value> =
        plan["take"].as_array().unwrap().iter().filter(|one| one["what"] == "soup").collect();
    let stock = serde_json::json!({ "what": "soup", "ml": 2500, "package_ml": 1000, "packages": 3 });
    assert_eq!(soup, [&stock, &serde_json::json!({ "what": "soup", "tops_up": true, "ml": 150 })]);
    let text = run.again().args(["plan", "autumn"]).succeeds();
    assert!(text.contains("  have     150 ml of replenisher for soup\n"), "{text}");
}

/// Five loads exhaust a fixer of 2.5 l: a fifth of it is left after the fourth, nothing after the fifth.
#[test]
fn a_load_shows_the_warnings_of_its_card() {
    let run = with(&rolls(25, 'E', "120", "marsh-100")).args(["plan", "autumn", "--as", "json"]);
    let plan = json(&run);
    let of = |load: &Value| {
        let told = load["warnings"].as_array().unwrap().iter();
        told.map(|one| one["rule"].as_str().unwrap().to_owned()).collect::<Vec<_>>()
    };
    let told: Vec<Vec<String>> = plan["loads"].as_array().unwrap().iter().map(of).collect();
    let spent = "2.5 l of fixer 1+4 treats 25 rolls: after tonight's 5 rolls, after 20 rolls before, it is nearly exhausted";
    assert!(told.iter().take(4).all(|told| !told.contains(&"R13".to_owned())), "{told:?}");
    assert!(told[4].contains(&"R13".to_owned()), "{told:?}");
    // On the page a number stays beside its unit.
    let page = run.again().args(["plan", "autumn", "--as", "html"]).succeeds().replace('\u{a0}', " ");
    let line = format!("<li>{}</li>", spent.replace('\'', "&#39;"));
    assert_eq!(page.matches(&line).count(), 1, "{page}");
    // The loads have the warnings of the check that concern them: this bath does not state its capacity.
    let bench = BENCH.replace("    treats    10 rolls per 1 l at 1+4\n", "");
    let run = with(&rolls(5, 'E', "120", "marsh-100")).file("bench.wet", bench);
    let run = run.args(["card", "marsh", "--at", "20C", "--rolls", "5x120", "--as", "json"]);
    let card: Value = serde_json::from_str(&run.succeeds()).unwrap();
    assert_ne!(card["warnings"], serde_json::json!([]));
    let plan = json(&run.again().args(["plan", "autumn", "--as", "json", "--at", "20C"]));
    assert_eq!(plan["loads"][0]["warnings"], card["warnings"]);
}

#[test]
fn packages_are_counted_whole() {
    // Five rolls: 2.5 l at 1+3 take 625 ml of the developer, which is two bottles of half a litre.
    let plan = json(&with(&rolls(5, 'E', "120", "marsh-100")).args([
        "plan",
        "autumn",
        "--as",
        "json",
        "--package",
        "soup=500ml",
    ]));
    let soup = plan["take"].as_array().unwrap().iter().find(|one| one["what"] == "soup").unwrap().clone();
    assert_eq!((&soup["ml"], &soup["packages"]), (&625.into(), &2.into()));
    let run = with(&rolls(5, 'E', "120", "marsh-100")).args(["plan", "autumn", "--package", "soap=1l"]);
    assert!(run.fails(2).1.contains("it needs fixer, soup"));
}

/// The bench with its fixer at 1+6.
fn thinner() -> String {
    BENCH.replace("fixer 1+4", "fixer 1+6").replace("per 1 l at 1+4", "per 1 l at 1+6")
}

/// The first load is one roll, the largest five, and the fixer is made once for both: 2500 ml / 7 = 357.14 ml, to 1 ml
/// 357. Of the first load's own 500 ml it would be 71.43 ml, to 1 ml 71, and five times that is only 355.
#[test]
fn a_bath_is_measured_for_its_largest_load() {
    let rows = format!("{}{}", rolls(1, 'D', "120", "reed-100"), rolls(5, 'E', "120", "marsh-100"));
    let run = with(&rows).file("bench.wet", thinner());
    let run = run.args(["plan", "autumn", "--as", "json"]);
    let plan = json(&run);
    let mix = &plan["loads"][0]["mix"][0];
    assert_eq!((&mix["volume_ml"], &mix["parts"][0]["ml"]), (&2500.into(), &357.into()), "{plan}");
    let run = run.again().args(["plan", "autumn"]);
    let text = run.succeeds();
    assert!(text.contains("  have     357 ml of fixer\n"), "{text}");
    let run =
        run.again().args(["card", "bench.wet", "marsh", "--at", "20C", "--rolls", "5x120", "--tank", "five"]);
    let card = run.succeeds();
    assert!(card.contains("357 ml fixer"), "{card}");
}

/// At 1+6 with 71.42 ml of the fixer to a roll: 2500 ml / 7 = 357.14 ml. To 1 ml that is 357 ml, less than the 5 x 71.42 ml
/// = 357.1 ml that the film needs, so it is 358 ml.
#[test]
fn a_mixed_bath_has_what_its_film_needs() {
    let bench = thinner()
        .replace("    treats    10 rolls", "    needs     71.42 ml per roll\n    treats    10 rolls");
    let rows = format!("{}{}", rolls(1, 'D', "120", "reed-100"), rolls(5, 'E', "120", "marsh-100"));
    let plan = planned(with(&rows).file("bench.wet", bench));
    let mix = &plan["loads"][0]["mix"][0];
    assert_eq!((&mix["volume_ml"], &mix["parts"][0]["ml"]), (&2500.into(), &358.into()), "{plan}");
}
