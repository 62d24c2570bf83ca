//! Sheets to weigh and dilute by, compared with published figures and sums worked by hand. Each figure has its source.
#![expect(clippy::indexing_slicing, reason = "a missing key must fail the test")]

use std::fs;

use jsonschema::draft202012;
use serde_json::Value;

use crate::evenings::shelf;
use crate::program::Run;

/// A solution of one ingredient in a litre.
fn one(item: &str) -> Run {
    one_for(item, "1 l")
}

/// A solution of one ingredient, for that volume.
fn one_for(item: &str, whole: &str) -> Run {
    let text = format!(
        "wetside 1\nsolution weir \"Weir\" {{\n    role clearing\n    formula for {whole} {{\n        \
         water 500 ml at 50 C\n        {item}\n        water to {whole}\n    }}\n}}\n"
    );
    Run::new().file("weir.wet", text).args(["measure", "weir.wet"])
}

fn json(run: Run) -> Value {
    serde_json::from_str(&run.args(["--as", "json"]).succeeds()).unwrap()
}

/// The first ingredient.
fn first(sheet: &Value) -> &Value {
    let lines = sheet["bottles"][0]["lines"].as_array().unwrap();
    lines.iter().find(|line| line["do"] == "weigh").unwrap()
}

/// The formula's state of 100 g, the state in use, the printed grams for each gram, the tolerance and the source.
const ANCHELL: &str = "Anchell, The Darkroom Cookbook, 3rd ed., 2008, pages 268, 329 and 330";

const STATES: [(&str, &str, f64, f64, &str); 7] = [
    (
        "sodium-carbonate 100 g anhydrous",
        "carbonate=monohydrate",
        124.003 / 105.988,
        0.001,
        "atomic weights 2021",
    ),
    ("sodium-carbonate 100 g anhydrous", "carbonate=decahydrate", 2.7, 0.05, "atomic weights 2021"),
    ("sodium-sulfite 100 g anhydrous", "sulfite=heptahydrate", 2.0, 0.01, "atomic weights 2021"),
    ("sodium-thiosulfate 100 g pentahydrate", "thiosulfate=anhydrous", 0.64, 0.005, ANCHELL),
    ("borax 100 g decahydrate", "borax=pentahydrate", 0.76, 0.005, ANCHELL),
    ("sodium-sulfate 100 g anhydrous", "sulfate=decahydrate", 2.27, 0.005, ANCHELL),
    // Rounded up in print: 105 g of crystals for 45 g, where 102 would do.
    ("sodium-sulfate 100 g anhydrous", "sulfate=decahydrate", 105.0 / 45.0, 0.07, ANCHELL),
];

#[test]
fn a_salt_is_converted_by_published_factors() {
    for (item, had, factor, within, source) in STATES {
        let sheet = json(one(item).args(["--make", "1l", "--have", had]));
        let grams = first(&sheet)["g"].as_f64().unwrap();
        assert!((grams / 100.0 - factor).abs() <= within, "{had}: {grams} g, not {factor} ({source})");
    }
}

/// The formula's line, the volume to make, the strength in use, the published millilitres, the tolerance and the
/// source.
const CROSSES: [(&str, &str, &str, f64, f64, &str); 6] = [
    ("acetic-acid 1008 ml 1 %", "2l", "acid=28%", 36.0, 0.0, "28 % to 1 % is 1 + 27, by hand"),
    ("acetic-acid 280 ml 1 %", "1l", "acid=28%", 10.0, 0.0, "28 % to 1 % is 1 + 27, by hand"),
    (
        "acetic-acid 11 ml 28 %",
        "1l",
        "acid=glacial",
        3.0,
        0.1,
        "3 + 8, good to 3 %: common practice, no source",
    ),
    ("acetic-acid 1000 ml 28 %", "2l", "acid=glacial", 281.4, 0.5, "28 of 99.5 parts, by hand"),
    ("acetic-acid 47 ml 28 %", "1l", "acid=99.5%", 13.2, 0.0, "47 × 28 ÷ 99.5 = 13.226, by hand"),
    // 10 gallons of 95 % make 13.571 of 70 %; in litres, to what a large cylinder tells.
    (
        "isopropyl-alcohol 51.372 l 70 %",
        "60l",
        "alcohol=95%",
        37_854.0,
        5.0,
        "US Army, Pharmaceutical Calculations, subcourse MD0802, exercises; the title from memory, the answer by hand",
    ),
];

#[test]
fn a_liquid_is_converted_by_its_strength() {
    for (item, make, had, ml, within, source) in CROSSES {
        let run = one_for(item, make).args(["--make", make, "--have", had]);
        let got = first(&json(run))["ml"].as_f64().unwrap();
        assert!((got - ml).abs() <= within + 1e-9, "{item} as {had}: {got} ml, not {ml} ({source})");
    }
}

/// By hand: 47 × 28 ÷ 99.5 is 13.226, which is 13 to the millilitre and 1.7 % under, and 13.2 to the tenth and 0.2 %;
/// 10 % bromide for 4.8 g is 48 ml; for 3.08 g it is 30.8, by the half 31; for 12.34 g it is 123.4, by the whole 123.
#[test]
fn a_little_of_a_strong_liquid_is_measured_to_a_tenth() {
    for (item, had, ml, off) in [
        ("acetic-acid 47 ml 28 %", "acid=99.5%", 13.2, -0.2),
        ("potassium-bromide 2.46 g", "bromide=10%", 24.6, 0.0),
        ("potassium-bromide 3.08 g", "bromide=10%", 31.0, 0.65),
        ("potassium-bromide 4.8 g", "bromide=10%", 48.0, 0.0),
        ("potassium-bromide 12.34 g", "bromide=10%", 123.0, -0.32),
    ] {
        let sheet = json(one(item).args(["--make", "1l", "--have", had]));
        let line = first(&sheet);
        let got = (line["ml"].as_f64().unwrap(), line["off_percent"].as_f64().unwrap());
        assert_eq!(got, (ml, off), "{item}");
    }
}

/// US Army, Photographic Quality Control, subcourse SS0513, 1988: 2 oz of a solution of 10 % carry 0.2 oz; so 6 g are
/// 60 ml.
#[test]
fn a_percent_solution_is_grams_in_100_millilitres() {
    let sheet = json(one("potassium-bromide 6 g").args(["--make", "1l", "--have", "bromide=10%"]));
    assert_eq!(first(&sheet)["ml"], 60);
}

/// A published formula, for a litre as it is printed in grams and for 32 fluid ounces as it is printed in ounces and
/// grains: the lines of the shelf or of the formula, and the printed values beside them.
struct Printed {
    /// The file and the solution's name.
    call: [&'static str; 2],
    /// The formula, where it is not the shelf's.
    text: &'static str,
    /// Each thing and how much of it, in grains or in fluid ounces.
    lines: &'static [(&'static str, f64)],
    /// Where it is printed.
    source: &'static str,
}

/// An avoirdupois ounce in grains: NIST Handbook 44, Appendix C.
const OUNCE: f64 = 437.5;

/// Grams in print are rounded, of 1.849 g to 1.9; so they are within 3 %.
const FORMULAS: [Printed; 3] = [
    Printed {
        call: ["recipes/solutions.wet", "mq-carbonate"],
        text: "",
        lines: &[
            ("metol", 45.0),
            ("sodium-sulfite", 1.5 * OUNCE),
            ("hydroquinone", 175.0),
            ("sodium-carbonate", 2.25 * OUNCE),
            ("potassium-bromide", 27.0),
        ],
        source: "MQ carbonate developer: published formula, generic; from memory",
    },
    Printed {
        call: ["weir.wet", "weir-fix"],
        text: "wetside 1\nsolution weir-fix {\n    role fixer\n    formula for 1 l {\n        water 600 ml at 50 C\n        \
               sodium-thiosulfate 240 g pentahydrate\n        sodium-sulfite 15 g anhydrous\n        \
               acetic-acid 48 ml 28 %\n        boric-acid 7.5 g\n        potassium-alum 15 g dodecahydrate\n        \
               water to 1 l\n    }\n}\n",
        lines: &[
            ("sodium-thiosulfate", 8.0 * OUNCE),
            ("sodium-sulfite", 0.5 * OUNCE),
            ("acetic-acid", 1.5),
            ("boric-acid", 0.25 * OUNCE),
            ("potassium-alum", 0.5 * OUNCE),
        ],
        source: "acid hardening fixer with boric acid: published formula, generic; from memory",
    },
    Printed {
        call: ["recipes/solutions.wet", "acetic-stop"],
        text: "",
        lines: &[("acetic-acid", 1.5)],
        source: "US Army, Laboratory Procedures, subcourse SS0509, 1988, page 14: 1 1/2 oz of 28 % acetic acid to 32 oz",
    },
];

/// The amount beside the grams: `2 av-oz 111 grain` in grains, `1.5 us-fl-oz` in ounces.
fn beside(line: &str) -> f64 {
    let words: Vec<&str> = line.split_whitespace().collect();
    let before = |unit: &str| {
        let at = words.iter().position(|word| *word == unit)?;
        words[at - 1].parse::<f64>().ok()
    };
    before("us-fl-oz")
        .unwrap_or_else(|| OUNCE * before("av-oz").unwrap_or(0.0) + before("grain").unwrap_or(0.0))
}

#[test]
fn a_quart_of_a_formula_has_the_ounces_and_grains_of_the_manual() {
    for Printed { call, text, lines, source } in FORMULAS {
        let run = if text.is_empty() { shelf() } else { Run::new().file(call[0], text) };
        let run = run.arg("measure").args(call).args(["--make", "32us-fl-oz", "--scale", "0.01g"]);
        let sheet = run.args(["--units", "us"]).succeeds();
        let sheet = sheet.split("LABELS").next().unwrap().split("WEIGH").last().unwrap();
        for (what, printed) in lines {
            let line = sheet.lines().find(|line| line.contains(what)).unwrap();
            let got = beside(line);
            assert!((got / printed - 1.0).abs() <= 0.03, "{line}: {got}, not {printed} ({source})");
        }
    }
}

/// School problems of physics, solved backwards: the volume and temperature of the mixture, the two taps, and the
/// volume from each. A tap can be a kettle.
#[test]
fn water_mixes_as_in_schoolbooks() {
    for (make, at, taps, hot, cold) in [
        // 1 l at 80 °C and 1 l at 10 °C come to 45 °C.
        ("4l", "45C", "10C,80C", 1000.0, 1000.0),
        // 100 g at 80 °C and 50 g at 20 °C come to 60 °C.
        ("300ml", "60C", "80C,20C", 100.0, 50.0),
    ] {
        // The bottle counts as being as warm as the mixture, so half of it is water of that temperature.
        let run = shelf().args(["measure", "rapid-fix", "1+1", "--make", make, "--at", at, "--taps", taps]);
        let sheet = json(run);
        let drawn = &sheet["mixture"]["water"]["taps"];
        let got = (drawn["hot_ml"].as_f64().unwrap(), drawn["cold_ml"].as_f64().unwrap());
        assert_eq!(got, (hot, cold), "{at} of {taps}");
    }
}

/// By hand: equal parts mix to the mean, so at 25 °C a stock of 40 °C needs water of 10 °C. From taps at 0 and 40 °C
/// that is a quarter from the hot one.
#[test]
fn water_has_the_temperature_that_the_mixture_needs() {
    let run =
        shelf().args(["measure", "rapid-fix", "1+1", "--make", "2l", "--at", "25C", "--stock-at", "40C"]);
    let sheet = json(run.args(["--taps", "0C,40C"]));
    let water = &sheet["mixture"]["water"];
    assert_eq!((&water["ml"], &water["at_c"]), (&Value::from(1000), &Value::from(10)));
    assert_eq!((&water["taps"]["hot_ml"], &water["taps"]["cold_ml"]), (&Value::from(250), &Value::from(750)));
}

/// By hand: equal parts of 60 °F and 76 °F are at 68 °F, and the sheet shows no smaller part of a degree. 20.7 °C is
/// 69.26 °F, shown to a tenth.
#[test]
fn a_temperature_is_shown_to_a_tenth_in_the_scale_of_the_call() {
    let call = ["measure", "rapid-fix", "1+1", "--make", "2l", "--stock-at", "60F", "--taps", "50F,130F"];
    let text = shelf().args(call).args(["--at", "68F"]).succeeds();
    for expected in
        ["water at 76 °F (24.4 °C)", "at 130 °F", "at 50 °F (10 °C)", "rapid-fix at 60 °F (15.6 °C)"]
    {
        assert!(text.contains(expected), "{expected}: {text}");
    }
    let text = shelf().args(["measure", "mq-borax", "--make", "1l", "--units", "us", "--taps", "20.7C,55C"]);
    let words: Vec<String> = text.succeeds().split_whitespace().map(str::to_owned).collect();
    assert!(words.join(" ").contains("at 69.3 °F (20.7 °C)"), "{words:?}");
}

/// From taps at 12 and 50 °C, water of 50 °C comes from one tap alone.
#[test]
fn water_from_one_tap_alone_is_shown_as_such() {
    let text = shelf().args(["measure", "mq-borax", "--make", "1l", "--taps", "12C,50C"]).succeeds();
    assert!(text.contains("all of it at 50 °C (122 °F)"), "{text}");
}

/// 1+4 in 2.5 l is 500 ml and 2000 ml.
#[test]
fn the_parts_of_a_dilution_add_up_to_its_volume() {
    let sheet = json(shelf().args(["measure", "rapid-fix", "1+4", "--make", "2.5l"]));
    assert_eq!(sheet["mixture"]["water"]["ml"], 2000);
    assert_eq!(sheet["mixture"]["parts"][0]["ml"], 500);
}

/// 3.1 g on a scale of 1 g are 3 g: 3.23 % under. Half a gram is below its resolution.
#[test]
fn the_error_of_the_scale_is_reported() {
    let sheet = json(one("metol 3.1 g").args(["--make", "1l", "--scale", "1g"]));
    assert_eq!((&first(&sheet)["g"], &first(&sheet)["off_percent"]), (&3.into(), &Value::from(-3.23)));
    let sheet = json(one("metol 0.5 g").args(["--make", "1l", "--scale", "1g"]));
    let warnings = sheet["warnings"].to_string();
    assert!(warnings.contains("less than the scale's") && warnings.contains("finer scale"), "{warnings}");
}

/// By hand: 0.2 g on a scale of 0.1 g are two steps, and half a step is 25 % of them; 1 g are ten, and 5 %. To take
/// 0.2 g, 1 g in 1 l is 200 ml, more than a tenth of the volume, so 1 g in 100 ml: 20 ml.
#[test]
fn an_amount_of_few_steps_of_the_scale_is_reported() {
    let sheet = json(one("phenidone 0.2 g").args(["--make", "1l"]));
    let warnings = sheet["warnings"].to_string();
    assert!(warnings.contains("0.2 g of phenidone is 2 steps of 0.1 g on the scale"), "{warnings}");
    assert!(
        warnings.contains("an error of up to 25 %") && warnings.contains("100 ml and take 20 ml"),
        "{warnings}"
    );
    let sheet = json(one("phenidone 1 g").args(["--make", "1l"]));
    assert_eq!(sheet["warnings"], Value::Array(Vec::new()));
}

/// The statements of metol in the EU's CLP Regulation: H302, H317, H373, H410.
#[test]
fn every_ingredient_has_its_label() {
    let sheet = json(one("metol 3.1 g").args(["--make", "1l"]));
    let label = &first(&sheet)["label"];
    let codes: Vec<&str> =
        label["hazards"].as_array().unwrap().iter().map(|one| one["code"].as_str().unwrap()).collect();
    assert_eq!(codes, ["H302", "H317", "H373", "H410"]);
    assert_eq!(label["cas"], "55-55-0");
    assert!(8 < label["hazards_source"].as_str().unwrap().len());
}

/// Water freezes at 0 °C and boils at 100.
#[test]
fn the_water_of_a_tap_must_be_liquid() {
    for (taps, expected) in [
        ("-1C,50C", "-1C is out of range: the temperature of water"),
        ("20C,213F", "213F is out of range: the temperature of water"),
    ] {
        let run = shelf().args(["measure", "mq-borax", "--make", "1l", "--taps", taps]);
        let (_, report) = run.fails(2);
        assert!(report.contains(expected) && report.contains("0 C to 100 C"), "{report}");
    }
}

#[test]
fn acid_goes_into_water_and_the_sheet_says_so() {
    let text = shelf().args(["measure", "acetic-stop", "--make", "1l"]).succeeds();
    let (water, acid) = (text.find("water at 20").unwrap(), text.find("acetic-acid, 28 %").unwrap());
    assert!(water < acid && text.contains("acid into water, never the reverse"), "{text}");
}

#[test]
fn a_sheet_matches_its_schema() {
    let path = concat!(env!("CARGO_MANIFEST_DIR"), "/grammar/sheet.schema.json");
    let schema: Value = serde_json::from_str(&fs::read_to_string(path).unwrap()).unwrap();
    let validator = draft202012::new(&schema).unwrap();
    let calls: [&[&str]; 7] = [
        &["mq-carbonate", "--have", "carbonate=monohydrate", "--have", "bromide=10%"],
        &["acetic-stop", "--have", "acetic-acid=99.5%"],
        &["mq-borax", "--taps", "12C,55C"],
        &["permanganate-bleach"],
        &["rapid-fix", "1+4", "--at", "20C", "--stock-at", "23C", "--taps", "12C,55C"],
        &["rapid-fix", "stock"],
        &["mq-borax", "1+1", "--with", "print-developer=20ml/l"],
    ];
    for call in calls {
        let run = call.iter().fold(shelf().arg("measure"), |run, arg| run.arg(*arg));
        let sheet = json(run.args(["--make", "1l"]));
        let faults: Vec<String> = validator.iter_errors(&sheet).map(|fault| fault.to_string()).collect();
        assert!(faults.is_empty(), "{call:?}: {faults:?}");
        let mut other = sheet;
        other["more"] = Value::from(1);
        assert!(!validator.is_valid(&other), "the schema accepts a property that it does not have");
    }
}

/// The rule of mixtures, in any handbook of physics: 5 l at 20 °C from 12 °C and 55 °C are 5000 · (20 − 12) ÷ (55 − 12)
/// = 930.2 ml of the hot water, and the rest cold. At 8/43 of ten litres the hot water is 1860.5 ml, to 5 ml 1860 ml.
#[test]
fn water_is_tempered_from_two_taps() {
    let drawn = |call: &[&str]| {
        let run = call.iter().fold(Run::new().args(["measure", "water"]), |run, word| run.arg(*word));
        let water: Value = serde_json::from_str(&run.args(["--as", "json"]).succeeds()).unwrap();
        let schema: Value = serde_json::from_str(include_str!("../grammar/water.schema.json")).unwrap();
        jsonschema::validate(&schema, &water).unwrap();
        water
    };
    let water = drawn(&["--make", "5l", "--at", "20C", "--taps", "55C,12C"]);
    assert_eq!(
        (&water["from"]["taps"]["hot_ml"], &water["from"]["taps"]["cold_ml"]),
        (&930.into(), &4070.into())
    );
    assert_eq!(water["cautions"], serde_json::json!([]));
    let water = drawn(&["--make", "10l", "--at", "20C", "--taps", "12C,55C"]);
    assert_eq!(water["from"]["taps"]["hot_ml"], 1860);
    // From a tap at 65 °C: 5000 · 8 ÷ 53 = 754.7 ml, which scalds. Over 60 °C: common practice, no source.
    let water = drawn(&["--make", "5l", "--at", "20C", "--taps", "12C,65C"]);
    assert_eq!(water["from"]["taps"]["hot_ml"], 755);
    assert!(water["cautions"][0].as_str().unwrap().contains("scalds"), "{water}");
}

#[test]
fn water_needs_temperatures_between_those_of_the_taps() {
    let told = |call: &[&str]| {
        let run = call
            .iter()
            .fold(Run::new().args(["measure", "water", "--make", "5l"]), |run, word| run.arg(*word));
        run.fails(2).1
    };
    assert!(told(&[]).contains("water needs its temperature and those of the taps"));
    assert!(told(&["--at", "10C", "--taps", "12C,55C"]).contains("the taps give 12 °C to 55 °C"));
    assert!(told(&["--at", "20C", "--taps", "12C,55C", "--scale", "1g"]).contains("are for solutions"));
}
