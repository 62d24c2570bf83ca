//! The schema is valid, every schedule conforms to it, and it refuses invalid ones.

use std::collections::BTreeSet;
use std::fs;

use jsonschema::{Validator, draft202012};
use serde_json::{Value, json};

use super::{RARE, SCHEDULES, made, step};

fn schema() -> Value {
    let path = concat!(env!("CARGO_MANIFEST_DIR"), "/grammar/schedule.schema.json");
    serde_json::from_str(&fs::read_to_string(path).unwrap()).unwrap()
}

fn validator() -> Validator {
    draft202012::new(&schema()).unwrap()
}

#[test]
fn the_schema_is_a_valid_schema() {
    let mut schema = schema();
    assert_eq!(schema["$schema"], "https://json-schema.org/draft/2020-12/schema");
    if let Err(fault) = draft202012::meta::validate(&schema) {
        panic!("{fault} at {}", fault.instance_path());
    }
    schema["properties"]["total_ms"]["minimum"] = json!("nothing");
    assert!(!draft202012::meta::is_valid(&schema), "the schema of schemas lets anything through");
}

#[test]
fn every_schedule_conforms_to_the_schema() {
    let validator = validator();
    for (call, schedule) in SCHEDULES.iter().chain(RARE.iter()) {
        let faults: Vec<_> = validator.iter_errors(schedule).collect();
        let told = faults.iter().map(|fault| format!("{fault} at {}", fault.instance_path()));
        assert!(faults.is_empty(), "{call}: {:?}", told.collect::<Vec<_>>());
    }
}

/// A key that occurs in no schedule is not tested.
#[test]
fn every_key_of_the_schema_occurs_in_a_schedule() {
    let (mut schema_words, mut made) = (BTreeSet::new(), BTreeSet::new());
    named(&schema(), &mut schema_words);
    SCHEDULES.iter().chain(RARE.iter()).for_each(|(_, schedule)| keys(schedule, &mut made));
    assert_eq!(schema_words, made, "the keys of the schema, and those of the schedules");
}

/// All names under `properties` in a schema, and in the schema of a list's items.
fn named(schema: &Value, all: &mut BTreeSet<String>) {
    if schema["items"].is_object() {
        named(&schema["items"], all);
    }
    if let Some(properties) = schema["properties"].as_object() {
        all.extend(properties.keys().cloned());
        properties.values().for_each(|inner| named(inner, all));
    }
    schema["$defs"].as_object().into_iter().flatten().for_each(|(_, inner)| named(inner, all));
}

fn keys(value: &Value, all: &mut BTreeSet<String>) {
    if let Some(object) = value.as_object() {
        all.extend(object.keys().cloned());
        object.values().for_each(|inner| keys(inner, all));
    }
    value.as_array().into_iter().flatten().for_each(|inner| keys(inner, all));
}

/// JSON pointers and the values put there; `null` removes the value.
#[test]
fn an_invalid_schedule_is_refused() {
    let off = [
        ("/schedule", json!(1)),
        ("/total_ms", json!(null)),
        ("/total_ms", json!(-1)),
        ("/total_ms", json!(0.5)),
        ("/water_ml", json!("2 l")),
        ("/recipe/fingerprint", json!("6BC7D717")),
        ("/recipe/title", json!("a\u{1b}[2Jb")),
        ("/conditions/scale", json!("K")),
        ("/conditions/rolls", json!([])),
        ("/conditions/rolls/0/format", json!("127")),
        ("/conditions/rolls/0/count", json!(0)),
        ("/load/0/slot", json!(0)),
        ("/steps", json!([])),
        ("/steps/0/kind", json!("soak")),
        ("/steps/0/start_ms", json!(-1)),
        ("/steps/0/volume_ml", json!(null)),
        ("/steps/0/water_ml", json!(null)),
        ("/steps/0/dilution", json!("1:1")),
        ("/steps/0/dilution", json!(null)),
        ("/steps/0/use", json!("thrown away")),
        ("/steps/0/parts", json!([])),
        ("/steps/0/parts/0/ml", json!(-5)),
        ("/steps/0/temperature_c", json!("20 C")),
        ("/steps/0/temperature_c", json!(300)),
        ("/steps/0/light_safe", json!(false)),
        ("/steps/0/events/0/do", json!("stir")),
        ("/steps/0/leg", json!(0)),
        ("/legs", json!([])),
        ("/legs/0/latest_ms", json!(null)),
        ("/steps/0/events/0/at_ms", json!("0:00")),
        ("/steps/0/events/0/for_ms", json!(null)),
        ("/steps/0/events/0/count", json!(3)),
        ("/steps/0/because/0/of", json!("duration_ms")),
        ("/steps/0/because/0/rule", json!("rule one")),
        ("/steps/0/because/0/from/0/line", json!(0)),
    ];
    let (validator, sound) = (validator(), sound());
    assert!(validator.is_valid(&sound));
    for (place, value) in off {
        let mut schedule = sound.clone();
        let (above, last) = place.rsplit_once('/').unwrap();
        let object = schedule.pointer_mut(above).unwrap_or_else(|| panic!("nothing is at {above}"));
        match (object, &value) {
            (Value::Object(object), Value::Null) => assert!(object.remove(last).is_some(), "{place}"),
            (Value::Object(object), _) => _ = object.insert(last.to_owned(), value.clone()),
            (other, _) => panic!("{place} is in no object but in {other}"),
        }
        assert!(!validator.is_valid(&schedule), "{value} went through at {place}");
    }
}

/// Otherwise a misspelt key would not be noticed.
#[test]
fn an_unknown_key_is_refused_anywhere() {
    let (validator, sound) = (validator(), sound());
    let mut places = Vec::new();
    objects(&sound, String::new(), &mut places);
    assert!(places.iter().any(|place| place.ends_with("/from/0")), "{places:?}");
    for place in places {
        let mut schedule = sound.clone();
        schedule.pointer_mut(&place).unwrap()["stray"] = json!(1);
        assert!(!validator.is_valid(&schedule), "a stray key went through at {place}");
    }
}

/// The JSON pointers of all objects.
fn objects(value: &Value, place: String, all: &mut Vec<String>) {
    if let Some(object) = value.as_object() {
        object.iter().for_each(|(key, inner)| objects(inner, format!("{place}/{key}"), all));
        all.push(place.clone());
    }
    for (number, inner) in value.as_array().into_iter().flatten().enumerate() {
        objects(inner, format!("{place}/{number}"), all);
    }
}

/// A schedule whose first step has a bath with parts, a load and reasons.
fn sound() -> Value {
    let (_, schedule) = SCHEDULES.iter().find(|(call, _)| call.contains("estuary-400-mq ")).unwrap();
    schedule.clone()
}

/// The bath is poured at 8:00 and is mixed 5 min before. No hand is free to mix while the tank turns without a pause, and a
/// development that a person ends may be over earlier: then the bath is mixed as the development begins.
#[test]
fn the_reason_for_a_mixing_tells_why_it_is_early() {
    let mixed = |time: &str, agitate: &str| {
        let text = format!(
            "wetside 2\nfilm f {{\n    speed ISO 100\n}}\nsolution soup {{\n    role developer\n    contains metol\n\
             }}\nsolution pale {{\n    role bleach\n    contains potassium-permanganate\n    keeps 30 min at 1+1\n}}\n\
             recipe r {{\n    film f\n    index 100\n    between 18 C and 24 C\n    develop {{\n        in soup, one-shot\n\
             \x20       time {time}\n        between 18 C and 24 C\n        agitate {agitate}\n    }}\n    bleach {{\n\
             \x20       in pale 1+1, one-shot\n        time 5:00\n        agitate none\n    }}\n}}\n"
        );
        let schedule = made(&text, &["--at", "20C", "--rolls", "1x120", "--volume", "500ml"]);
        let bleach = step(&schedule, 1);
        let because = bleach["because"].as_array().unwrap();
        let reason = because.iter().find(|one| one["of"] == "/mix_at_ms").unwrap()["text"].as_str().unwrap();
        (bleach["mix_at_ms"].as_i64().unwrap(), reason.to_owned())
    };
    let usual = "5 min before its pour; it keeps 30 min";
    assert_eq!(mixed("8:00", "none"), (180_000, usual.to_owned()));
    let early = "8 min before its pour instead of 5 min: develop";
    let busy = format!("{early} leaves no hand free; it keeps 30 min");
    assert_eq!(mixed("8:00", "continuous, by rotation"), (0, busy));
    let open = format!("{early} may end at any time; it keeps 30 min");
    assert_eq!(mixed("until \"it is dark\", at least 4:00, at most 8:00", "none"), (0, open));
}
