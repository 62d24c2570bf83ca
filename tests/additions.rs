//! What `with` adds to a bath: a part of the bath's volume, wherever the bath is mixed, counted, warned of or compared.

use serde_json::Value;

use crate::kitchen::{Kitchen, two_rolls};
use crate::program::Run;

/// A tray of a litre, and a bath of which 300 ml in each litre are old brown.
const LITH: &str = "wetside 2

film gull {
    speed     ISO 25
}

solution lith \"Lith developer\" {
    role      developer
    parts     a, b
    contains  hydroquinone, sodium-sulfite, potassium-carbonate
    treats    8 rolls per 1 l
}

solution old-brown \"Old brown\" {
    role      developer
    contains  hydroquinone, potassium-bromide
    keeps     6 months
    caution   \"it stains for good\"
}

tank tray {
    reels     8x10in x 6, 100 ml each
    holds     1 l
    transfer  10 s
}

recipe gull-lith {
    film      gull
    develop {
        in        lith 1+1+20, one-shot
        with      300 ml/l old-brown
        time      10:00
        between   20 C and 30 C
        agitate   continuous, by rocking
    }
}
";

fn card(text: &str, sheets: u32) -> (i32, String, String) {
    let rolls = format!("{sheets}x8x10in");
    let run = Run::new().file("lith.wet", text);
    run.args(["card", "lith.wet", "--at", "25C", "--rolls", rolls.as_str(), "--as", "json"]).ends()
}

/// 300 ml of the litre are old brown. 700 ml / 22 parts = 31.8 ml, so 32 ml of each bottle, and 636 ml of water.
#[test]
fn an_addition_takes_its_share_of_the_bath_and_the_dilution_the_rest() {
    let (status, out, report) = card(LITH, 1);
    assert_eq!(status, 0, "{report}");
    let card: Value = serde_json::from_str(&out).unwrap();
    let bath = &card["steps"][0];
    assert_eq!(bath["volume_ml"], 1000);
    let parts: Vec<_> =
        bath["parts"].as_array().unwrap().iter().map(|part| (&part["what"], &part["ml"])).collect();
    let wanted = serde_json::json!([["lith a", 32], ["lith b", 32], ["old-brown", 300]]);
    assert_eq!(serde_json::json!(parts), wanted);
    assert_eq!(bath["water_ml"], 636);
    assert_eq!(
        bath["with"],
        serde_json::json!({ "solution": "old-brown", "title": "Old brown", "ml_per_l": 300 })
    );
}

#[test]
fn an_added_solution_has_its_cautions_and_hazards_on_the_card() {
    let (_, out, _) = card(LITH, 1);
    let card: Value = serde_json::from_str(&out).unwrap();
    let cautions = card["cautions"].to_string();
    assert!(cautions.contains("it stains for good"), "{cautions}");
    let bottles: Vec<_> = card["hazards"].as_array().unwrap().iter().map(|one| one["what"].clone()).collect();
    assert!(bottles.contains(&"old-brown".into()), "{bottles:?}");
}

/// The other 700 ml of the litre treat 8 x 0.7 = 5.6 rolls. Six sheets are six rolls of 80 square inches.
#[test]
fn an_addition_has_no_capacity() {
    let (status, _, report) = card(LITH, 6);
    assert_eq!(status, 1);
    let words = report.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(
        words.contains("700 ml of lith 1+1+20 treats 5.6 rolls, but tonight's load is 6 rolls"),
        "{words}"
    );
}

/// Two rolls need 500 ml of stock, 1000 ml at 1+1. If 200 ml of each litre are another solution, 0.8 of the bath are
/// 1000 ml, so it has 1250 ml: 500 ml of stock, 500 ml of water and 250 ml of the other.
#[test]
fn a_bath_with_an_addition_is_larger_so_that_the_film_has_what_it_needs() {
    let text = "wetside 2
film gull {
    speed     ISO 25
}
solution mq {
    role      developer
    contains  metol, sodium-sulfite, borax
    needs     250 ml per roll
}
solution other {
    role      developer
    contains  potassium-bromide
}
recipe night {
    film      gull
    develop {
        in        mq 1+1, one-shot
        with      200 ml/l other
        time      10:00
        between   18 C and 24 C
        agitate   continuous
    }
}
";
    let schedule = two_rolls(text);
    let bath = schedule.steps[0].bath.as_ref().unwrap();
    let parts: Vec<(&str, String)> =
        bath.parts.iter().map(|part| (part.what.as_str(), part.volume.in_ml(1))).collect();
    assert_eq!(bath.volume.in_ml(1), "1250");
    assert_eq!(parts, [("mq", "500".to_owned()), ("other", "250".to_owned())]);
    assert_eq!(bath.water.in_ml(1), "500");
}

#[test]
fn a_plan_says_how_much_of_an_added_solution_to_have() {
    let backlog =
        "\nbacklog prints {\n    roll      \"P-1\" 8x10in of gull\n    roll      \"P-2\" 8x10in of gull\n}\n";
    let run = Run::new().file("lith.wet", format!("{LITH}{backlog}"));
    let (status, out, report) =
        run.args(["plan", "lith.wet", "prints", "--at", "25C", "--tank", "tray"]).ends();
    assert_eq!(status, 0, "{report}");
    let words = out.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(words.contains("have 300 ml of old-brown"), "{out}");
}

#[test]
fn a_plan_as_json_has_the_addition_of_a_bath() {
    let backlog = "\nbacklog prints {\n    roll      \"P-1\" 8x10in of gull\n}\n";
    let run = Run::new().file("lith.wet", format!("{LITH}{backlog}"));
    let call = ["plan", "lith.wet", "prints", "--at", "25C", "--tank", "tray", "--as", "json"];
    let (status, out, report) = run.args(call).ends();
    assert_eq!(status, 0, "{report}");
    let plan: Value = serde_json::from_str(&out).unwrap();
    let schema: Value = serde_json::from_str(include_str!("../grammar/plan.schema.json")).unwrap();
    assert!(jsonschema::draft202012::is_valid(&schema, &plan), "{out}");
    assert_eq!(plan["loads"][0]["baths"][0]["with"]["ml_per_l"], 300);
}

/// The lines of `compare` between the recipe and one with another text.
fn compared(from: &str, to: &str) -> String {
    let other = LITH.replace(from, to);
    assert_ne!(other, LITH);
    let run = Run::new().file("old.wet", LITH).file("new.wet", other);
    let (_, out, report) = run.args(["compare", "old.wet", "new.wet"]).ends();
    assert_eq!(report, "");
    out.split_whitespace().collect::<Vec<_>>().join(" ")
}

#[test]
fn each_change_of_an_addition_is_a_difference() {
    assert!(compared("300 ml/l", "200 ml/l").contains("develop with 300 ml → 200 ml"));
    assert!(compared("        with      300 ml/l old-brown\n", "").contains("develop with 300 ml → —"));
    let named = LITH.replace("old-brown", "new-brown");
    assert_ne!(Kitchen::of(LITH).recipe().work(), Kitchen::of(&named).recipe().work());
    // With a formula, it is the contents that count.
    let made = |name: &str, grams: u32| {
        let formula = format!(
            "solution {name} {{\n    role      developer\n    formula for 1 l {{\n        water            900 ml\n        potassium-bromide {grams} g\n        water            to 1 l\n    }}\n}}\n"
        );
        LITH.replace("recipe gull-lith", &format!("{formula}\nrecipe gull-lith"))
            .replace("300 ml/l old-brown", &format!("300 ml/l {name}"))
    };
    let of = |text: &str| {
        let kitchen = Kitchen::of(text);
        wetside::model::Fingerprint::of(kitchen.recipe())
    };
    assert_eq!(of(&made("bromide", 10)), of(&made("restrainer", 10)));
    assert_ne!(of(&made("bromide", 10)), of(&made("bromide", 12)));
}

/// The sheet of `lith 1+1+20` with old brown, from the file of the recipe.
fn sheet(text: &str, call: &[&str]) -> Run {
    let run = Run::new().file("lith.wet", text).args(["measure", "lith.wet", "lith"]);
    call.iter().fold(run, |run, arg| run.arg(*arg))
}

/// As on the card: 300 ml of the litre are old brown. 700 ml / 22 parts = 31.8 ml, so 32 ml of each bottle, and 636 ml of
/// water. In 2.5 l, 750 ml are old brown; 1750 ml / 22 = 79.5 ml, so 80 ml of each, and 1590 ml of water.
#[test]
fn a_sheet_measures_an_addition_as_the_card_does() {
    for (make, parts, water) in [("1l", [32, 32, 300], 636), ("2.5l", [80, 80, 750], 1590)] {
        let call = ["1+1+20", "--make", make, "--with", "old-brown=300ml/l", "--as", "json"];
        let sheet: Value = serde_json::from_str(&sheet(LITH, &call).succeeds()).unwrap();
        let mixture = &sheet["mixture"];
        let got: Vec<_> =
            mixture["parts"].as_array().unwrap().iter().map(|part| (&part["what"], &part["ml"])).collect();
        let [a, b, added] = parts;
        let wanted = serde_json::json!([["lith a", a], ["lith b", b], ["old-brown", added]]);
        assert_eq!((serde_json::json!(got), &mixture["water"]["ml"]), (wanted, &water.into()), "{make}");
        let with = serde_json::json!({ "solution": "old-brown", "title": "Old brown", "ml_per_l": 300 });
        assert_eq!(mixture["with"], with);
        let bottles: Vec<_> =
            sheet["hazards"].as_array().unwrap().iter().map(|one| one["what"].clone()).collect();
        assert!(bottles.contains(&"old-brown".into()), "{bottles:?}");
    }
    // The card and the sheet name the bath alike, and the cautions and notes of the addition are on the sheet.
    let noted = LITH.replace("    caution   \"it", "    note      \"shake it\"\n    caution   \"it");
    let text = sheet(&noted, &["1+1+20", "--make", "1l", "--with", "old-brown=300ml/l"]).succeeds();
    let words = text.split_whitespace().collect::<Vec<_>>().join(" ");
    for expected in
        ["Lith developer 1+1+20 with 300 ml/l old-brown", "it stains for good", "old-brown: shake it"]
    {
        assert!(words.contains(expected), "{expected}: {text}");
    }
}

/// Of a bath of 21 C, 300 ml old brown and 64 ml lith are at 25 C: the 636 ml of water must be at
/// (1000 x 21 - 364 x 25) / 636 = 18.7 C.
#[test]
fn an_addition_is_as_warm_as_the_bottles() {
    let call = ["1+1+20", "--make", "1l", "--with", "old-brown=300ml/l", "--at", "21C", "--stock-at", "25C"];
    let sheet: Value = serde_json::from_str(&sheet(LITH, &call).args(["--as", "json"]).succeeds()).unwrap();
    let at = sheet["mixture"]["water"]["at_c"].as_f64().unwrap();
    assert!((at - 11_900.0 / 636.0).abs() < 0.01, "{at}");
}

#[test]
fn a_sheet_refuses_an_addition_that_no_recipe_may_have() {
    let add = |text: &str, with: &str| sheet(text, &["1+1+20", "--make", "1l", "--with", with]);
    // Old brown comes in one bottle, lith in two.
    let (_, report) = add(LITH, "lith=20ml/l").fails(1);
    assert!(report.contains("'lith' comes in 2 bottles"), "{report}");
    let bleach = |name: &str, contains: &str| {
        format!("solution {name} {{\n    role      bleach\n    contains  {contains}\n}}\n")
    };
    let two =
        [bleach("lith", "potassium-ferricyanide 10 %"), bleach("old-brown", "sulfuric-acid 10 %")].concat();
    let call = ["1+4", "--make", "1l", "--with", "old-brown=20ml/l"];
    let (_, report) = sheet(&format!("wetside 2\n{two}"), &call).fails(1);
    assert!(report.contains("dangerous-addition"), "{report}");
    for (with, words) in [
        ("old-brown=1000ml/l", "an addition is less than a litre in each litre"),
        ("old-brown=20g/l", "a solution is added by its volume in each litre"),
        ("old-brown=20ml", "expected an amount per litre"),
        ("old-brown", "'old-brown' is not a solution and its share; write restrainer=20ml/l"),
        ("old-brow=20ml/l", "there is no solution 'old-brow'"),
    ] {
        let (_, report) = add(LITH, with).fails(2);
        assert!(report.contains(words), "{with}: {report}");
    }
    let call = ["--make", "1l", "--with", "old-brown=20ml/l"];
    let (_, report) = sheet(LITH, &call).fails(2);
    assert!(report.contains("--with is for a dilution"), "{report}");
    let (_, report) = sheet(LITH, &call).args(["1+1+20", "--as", "label"]).fails(2);
    assert!(report.contains("--as label is for one solution"), "{report}");
}

/// The bath of the card in `kinds/restrainer-in-the-bath.wet`: 515 x 0.02 = 10.3 ml, so 10 ml of restrainer; the other
/// 505 ml are halves: 253 ml and 252 ml. The restrainer is in another file than the developer.
#[test]
fn an_addition_may_be_in_another_file() {
    let restrainer = "wetside 2\nsolution slow \"Restrainer\" {\n    role      developer\n    contains  potassium-bromide 10 %\n}\n";
    let run = Run::new().folder_of_repo("recipes").file("slow.wet", restrainer);
    let run =
        run.args(["measure", "mq-borax", "1+1", "--make", "515ml", "--with", "slow=20ml/l", "--as", "json"]);
    let sheet: Value = serde_json::from_str(&run.succeeds()).unwrap();
    let parts = serde_json::json!([{ "what": "mq-borax", "ml": 253 }, { "what": "slow", "ml": 10 }]);
    assert_eq!((&sheet["mixture"]["parts"], &sheet["mixture"]["water"]["ml"]), (&parts, &252.into()));
}
