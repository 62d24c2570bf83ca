//! The sheet for weighing and letting down, held to what others have printed and to sums done by hand; each
//! figure has where it comes from beside it.
#![expect(clippy::indexing_slicing, reason = "a key that is not there fails the test, as it should")]

use std::fs;

use jsonschema::draft202012;
use serde_json::Value;
use wetside::measure::mixed;
use wetside::model::Temperature;
use wetside::model::Volume;

use crate::cards::shelf;
use crate::program::Run;

/// A solution of one ingredient in a litre.
fn one(item: &str) -> Run {
    let text = format!(
        "wetside 1\nsolution weir \"Weir\" {{\n    role clearing\n    formula for 1 l {{\n        \
         water 500 ml at 50 C\n        {item}\n        water to 1 l\n    }}\n}}\n"
    );
    Run::new().file("weir.wet", text).args(["measure", "weir.wet"])
}

fn json(run: Run) -> Value {
    serde_json::from_str(&run.args(["--as", "json"]).succeeds()).unwrap()
}

/// The first thing that is weighed.
fn first(sheet: &Value) -> &Value {
    let lines = sheet["bottles"][0]["lines"].as_array().unwrap();
    lines.iter().find(|line| line["do"] == "weigh").unwrap()
}

/// What of 100 g is had otherwise, printed in grams for each gram; within, source.
const STATES: [(&str, &str, f64, f64, &str); 6] = [
    (
        "sodium-carbonate 100 g anhydrous",
        "carbonate=monohydrate",
        124.003 / 105.988,
        0.001,
        "atomic weights 2021",
    ),
    (
        "sodium-carbonate 100 g anhydrous",
        "carbonate=decahydrate",
        2.7,
        0.05,
        "Langford, Basic Photography, App. D",
    ),
    ("sodium-sulfite 100 g anhydrous", "sulfite=heptahydrate", 2.0, 0.01, "Wellington handbook, p. 161"),
    (
        "sodium-thiosulfate 100 g pentahydrate",
        "thiosulfate=anhydrous",
        0.64,
        0.005,
        "a cookbook of 2008, p. 330",
    ),
    ("borax 100 g decahydrate", "borax=pentahydrate", 0.76, 0.005, "a cookbook of 2008, p. 329"),
    ("sodium-sulfate 100 g anhydrous", "sulfate=decahydrate", 2.27, 0.005, "a cookbook of 2008, p. 330"),
];

#[test]
fn a_salt_is_weighed_by_the_factors_that_handbooks_print() {
    for (item, had, factor, within, source) in STATES {
        let sheet = json(one(item).args(["--make", "1l", "--have", had]));
        let grams = first(&sheet)["g"].as_f64().unwrap();
        assert!((grams / 100.0 - factor).abs() <= within, "{had}: {grams} g, not {factor} ({source})");
    }
}

/// 28 % to 1 % by the cross is 1 and 27: 36 ml in 1008 ml, by a teacher's page of 2013.
/// Glacial to 28 % is 3 and 8 by a formula reprint, which is good to 3 %: 28 of 99.5 parts, 281.4 ml.
#[test]
fn an_acid_goes_by_the_cross() {
    let sheet = json(one("acetic-acid 1008 ml 1 %").args(["--make", "1l", "--have", "acid=28%"]));
    assert_eq!(first(&sheet)["ml"], 36);
    let sheet = json(one("acetic-acid 1000 ml 28 %").args(["--make", "1l", "--have", "acid=glacial"]));
    let ml = first(&sheet)["ml"].as_f64().unwrap();
    assert!((ml - 281.4).abs() < 1.0 && (ml / 1000.0 - 3.0 / 11.0).abs() < 0.03 * 3.0 / 11.0 + 0.001, "{ml}");
}

/// US Army subcourse SS0513: 2 oz of a solution of 10 % carry 0.2 oz; so 6 g are 60 ml.
#[test]
fn a_percent_solution_is_grams_in_100_millilitres() {
    let sheet = json(one("potassium-bromide 6 g").args(["--make", "1l", "--have", "bromide=10%"]));
    assert_eq!(first(&sheet)["ml"], 60);
}

/// A mid-century handicraft handbook: 45 grains of metol to 32 fluid ounces are 3.1 g to the litre.
#[test]
fn a_quart_of_a_formula_is_weighed_in_the_grains_of_the_manual() {
    let run = shelf().args(["measure", "mq-carbonate", "--make", "32us-fl-oz", "--scale", "0.01g"]);
    let text = run.args(["--units", "us"]).succeeds();
    let line = text.lines().find(|line| line.contains("metol")).unwrap();
    // 3.1 g x 0.946353 = 2.934 g, 2.93 g on that scale, and that is 45.2 grains of 0.0648 g.
    assert!(line.contains("2.93 g") && line.contains("45.2 grain"), "{line}");
}

/// School problems of physics: 1 l at 80 °C and 1 l at 10 °C come to 45 °C, 100 g at 80 and 50 g at 20 to 60.
#[test]
fn water_mixes_as_in_a_school_book() {
    let ml = Volume::from_ml;
    let at = Temperature::celsius_whole;
    assert_eq!(mixed(&[(ml(1000), at(80)), (ml(1000), at(10))]), Some(at(45)));
    assert_eq!(mixed(&[(ml(100), at(80)), (ml(50), at(20))]), Some(at(60)));
    assert_eq!(mixed(&[]), None);
}

/// By hand: of equal parts the mixture is at the middle, so at 25 °C a stock of 40 °C wants water of 10 °C;
/// of taps at 0 and 40 °C that is a quarter from the hot one.
#[test]
fn water_is_as_warm_as_the_mixture_wants() {
    let run =
        shelf().args(["measure", "rapid-fix", "1+1", "--make", "2l", "--at", "25C", "--stock-at", "40C"]);
    let sheet = json(run.args(["--taps", "0C,40C"]));
    let water = &sheet["mixture"]["water"];
    assert_eq!((&water["ml"], &water["at_c"]), (&Value::from(1000), &Value::from(10)));
    assert_eq!((&water["taps"]["hot_ml"], &water["taps"]["cold_ml"]), (&Value::from(250), &Value::from(750)));
}

/// 1+4 in 2.5 l is 500 ml and 2000 ml.
#[test]
fn parts_of_a_dilution_come_to_what_is_made() {
    let sheet = json(shelf().args(["measure", "rapid-fix", "1+4", "--make", "2.5l"]));
    assert_eq!(sheet["mixture"]["water"]["ml"], 2000);
    assert_eq!(sheet["mixture"]["parts"][0]["ml"], 500);
}

/// 3.1 g on a scale that tells 1 g apart are 3 g: 3.23 % under. Half a gram is less than it tells at all.
#[test]
fn the_error_of_the_scale_is_told() {
    let sheet = json(one("metol 3.1 g").args(["--make", "1l", "--scale", "1g"]));
    assert_eq!((&first(&sheet)["g"], &first(&sheet)["off_percent"]), (&3.into(), &Value::from(-3.23)));
    let sheet = json(one("metol 0.5 g").args(["--make", "1l", "--scale", "1g"]));
    let told = sheet["warnings"].to_string();
    assert!(told.contains("less than the scale's") && told.contains("finer scale"), "{told}");
}

/// The statements of metol in the EU's CLP Regulation: H302, H317, H373, H410.
#[test]
fn what_is_weighed_has_its_label() {
    let sheet = json(one("metol 3.1 g").args(["--make", "1l"]));
    let label = &first(&sheet)["label"];
    let codes: Vec<&str> =
        label["hazards"].as_array().unwrap().iter().map(|one| one["code"].as_str().unwrap()).collect();
    assert_eq!(codes, ["H302", "H317", "H373", "H410"]);
    assert_eq!(label["cas"], "55-55-0");
    assert!(8 < label["hazards_source"].as_str().unwrap().len());
}

#[test]
fn acid_goes_into_water_and_the_sheet_says_so() {
    let text = shelf().args(["measure", "acetic-stop", "--make", "1l"]).succeeds();
    let (water, acid) = (text.find("water at 20").unwrap(), text.find("acetic-acid, 28 %").unwrap());
    assert!(water < acid && text.contains("acid into water, never the reverse"), "{text}");
}

#[test]
fn a_sheet_holds_to_its_schema() {
    let path = concat!(env!("CARGO_MANIFEST_DIR"), "/grammar/sheet.schema.json");
    let schema: Value = serde_json::from_str(&fs::read_to_string(path).unwrap()).unwrap();
    let validator = draft202012::new(&schema).unwrap();
    let calls: [&[&str]; 6] = [
        &["mq-carbonate", "--have", "carbonate=monohydrate", "--have", "bromide=10%"],
        &["acetic-stop", "--have", "acetic-acid=99.5%"],
        &["mq-borax", "--taps", "12C,55C"],
        &["permanganate-bleach"],
        &["rapid-fix", "1+4", "--at", "20C", "--stock-at", "23C", "--taps", "12C,55C"],
        &["rapid-fix", "stock"],
    ];
    for call in calls {
        let run = call.iter().fold(shelf().arg("measure"), |run, arg| run.arg(*arg));
        let sheet = json(run.args(["--make", "1l"]));
        let faults: Vec<String> = validator.iter_errors(&sheet).map(|fault| fault.to_string()).collect();
        assert!(faults.is_empty(), "{call:?}: {faults:?}");
        let mut other = sheet;
        other["more"] = Value::from(1);
        assert!(!validator.is_valid(&other), "what the schema does not know is let through");
    }
}
