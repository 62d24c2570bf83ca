//! A comparison as JSON matches its schema, and the schema refuses invalid ones.

use std::collections::BTreeSet;
use std::fs;

use jsonschema::draft202012;
use serde_json::{Value, json};
use wetside::compare::compare_all;
use wetside::emit;
use wetside::model::Temperature;

use super::{TEXT, changed, run_compare};
use crate::kitchen::Kitchen;

/// The value at a place, or `null`.
pub(super) fn at<'a>(json: &'a Value, place: &str) -> &'a Value {
    json.pointer(place).unwrap_or(&Value::Null)
}

fn schema() -> Value {
    let path = concat!(env!("CARGO_MANIFEST_DIR"), "/grammar/comparison.schema.json");
    serde_json::from_str(&fs::read_to_string(path).unwrap()).unwrap()
}

/// The words of the schema for differences.
pub(super) fn schema_words() -> BTreeSet<String> {
    let schema = schema();
    let lists = ["differences", "said"].map(|list| {
        at(&schema, &format!("/$defs/recipe/properties/{list}/items/allOf/1/properties/what/enum")).clone()
    });
    lists
        .iter()
        .flat_map(|list| list.as_array().unwrap())
        .map(|word| word.as_str().unwrap().to_owned())
        .collect()
}

/// The comparison of two texts at 20 and 24 °C, checked against the schema.
#[track_caller]
pub(super) fn compared(old: &str, new: &str) -> Value {
    let (old, new) = (Kitchen::sound(old), Kitchen::sound(new));
    let at = [20, 24].map(Temperature::celsius_whole);
    let outcomes = compare_all(&old.shelf.recipes, &new.shelf.recipes, &at);
    let json = emit::comparison_json(&outcomes, &at, (&old.sources, &new.sources));
    let json: Value = serde_json::from_str(&json).unwrap();
    let validator = draft202012::new(&schema()).unwrap();
    let errors: Vec<String> =
        validator.iter_errors(&json).map(|error| format!("{error} at {}", error.instance_path())).collect();
    assert!(errors.is_empty(), "{errors:#?}\n{json:#}");
    json
}

#[test]
fn the_schema_of_comparisons_is_itself_valid() {
    let schema = schema();
    assert_eq!(at(&schema, "/$schema"), "https://json-schema.org/draft/2020-12/schema");
    assert!(draft202012::meta::is_valid(&schema));
}

#[test]
fn a_time_has_text_and_milliseconds() {
    let json = compared(TEXT, &changed("10:00 at 20 C", "9:30 at 20 C"));
    assert_eq!(at(&json, "/same"), &json!(false));
    let recipe = at(&json, "/recipes/0");
    assert_ne!(at(recipe, "/old/fingerprint"), at(recipe, "/new/fingerprint"));
    let expected = json!({
        "place": "step", "step": { "kind": "develop" }, "what": "time-at", "at_c": 20,
        "old": { "text": "10:00", "ms": 600_000 }, "new": { "text": "9:30", "ms": 570_000 },
    });
    assert_eq!(at(recipe, "/differences/0"), &expected);
}

#[test]
fn the_same_work_has_no_differences_and_one_fingerprint() {
    let json = compared(TEXT, &changed("\"One\"", "\"Two\""));
    assert_eq!(at(&json, "/same"), &json!(true));
    let recipe = at(&json, "/recipes/0");
    assert_eq!((at(recipe, "/differences"), at(recipe, "/said")), (&json!([]), &json!([])));
    assert_eq!(at(recipe, "/old/fingerprint"), at(recipe, "/new/fingerprint"));
}

#[test]
fn a_recipe_that_was_added_has_no_old_side() {
    let json = compared(TEXT, &format!("{TEXT}recipe two from one {{\n    index 400\n}}\n"));
    assert_eq!(at(&json, "/recipes/1/new/name"), "two");
    assert_eq!((at(&json, "/recipes/1").get("old"), at(&json, "/recipes/1/same")), (None, &json!(false)));
}

/// Each place with its new value; `null` removes the old value.
#[test]
fn the_schema_refuses_an_invalid_comparison() {
    let sound = compared(TEXT, &changed("10:00 at 20 C", "9:30 at 20 C"));
    let validator = draft202012::new(&schema()).unwrap();
    let invalid_values = [
        ("/comparison", json!(2)),
        ("/same", json!("no")),
        ("/temperatures_c", json!([])),
        ("/recipes", json!([])),
        ("/recipes/0/stray", json!(1)),
        ("/recipes/0/old/fingerprint", json!("6BC7")),
        ("/recipes/0/differences/0/what", json!("taste")),
        ("/recipes/0/differences/0/what", json!("caution")),
        ("/recipes/0/differences/0/what", json!("time")),
        ("/recipes/0/differences/0/at_c", json!("20 C")),
        ("/recipes/0/differences/0/step", json!(null)),
        ("/recipes/0/differences/0/of", json!("metol")),
        ("/recipes/0/differences/0/old", json!(null)),
        ("/recipes/0/differences/0/old/text", json!("a\u{1b}[2Jb")),
        ("/recipes/0/differences/0/old/ms", json!(-1)),
        ("/recipes/0/differences/0/new/stray", json!(1)),
    ];
    for (place, value) in invalid_values {
        let mut json = sound.clone();
        let (above, last) = place.rsplit_once('/').unwrap();
        let object = json.pointer_mut(above).unwrap().as_object_mut().unwrap();
        match value.is_null() {
            true => assert!(object.remove(last).is_some(), "{place}"),
            false => _ = object.insert(last.to_owned(), value.clone()),
        }
        assert!(!validator.is_valid(&json), "{value} is accepted at {place}");
    }
}

#[test]
fn json_is_chosen_by_the_output_name_or_the_option() {
    let new = changed("        fill      10 s\n", "        fill      12 s\n");
    let (printed, _) = run_compare(TEXT, &new).args(["--as", "json"]).fails(1);
    let run = run_compare(TEXT, &new).args(["-o", "comparison.json"]);
    assert_eq!(run.fails(1), (String::new(), String::new()));
    assert_eq!(fs::read_to_string(run.folder().join("comparison.json")).unwrap(), printed);
    let json: Value = serde_json::from_str(&printed).unwrap();
    assert_eq!(at(&json, "/temperatures_c"), &json!([18, 20, 22, 24]));
    assert_eq!(at(&json, "/recipes/0/new/file"), "new.wet");
}
