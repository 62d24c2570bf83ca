//! `negatives`: the sleeve page of a roll, from its backlog and the sessions that developed it.

use serde_json::{Value, json as value};

use crate::plan::with;
use crate::program::Run;

/// A roll of a backlog that a session developed with a doubt, and one that a retracted session developed.
fn darkroom() -> Run {
    let rows = "roll \"E1\" 120 of marsh-100 index 100 shot 2026-10-02\nroll \"E2\" 120 of marsh-100\nroll \"E3\" 120 of weir-400";
    let journal = "wetside 2\n\nuse \"backlog.wet\"\n\nsession one {\n    date      2026-11-03\n    recipe    marsh, fingerprint \"46ac83d1\"\n    backlog   autumn\n    tank      five\n    at        21 C\n    slot      1 \"E1\" 120 doubt \"weir-400 on the canister\"\n    slot      2 \"E2\" 120\n    note      \"fixer smelled stale\"\n}\n\nsession two {\n    date      2026-11-04\n    recipe    gone, fingerprint \"46ac83d1\"\n    slot      1 \"E3\" 120\n    slot      2 \"Z9\" 135\n}\n\nretract two because \"it was postponed\"\n";
    with(rows).file("journal.wet", journal)
}

fn rolls(labels: &[&str]) -> Value {
    let run = labels.iter().fold(darkroom().arg("negatives"), |run, label| run.arg(*label));
    let told: Value = serde_json::from_str(&run.args(["--as", "json"]).succeeds()).unwrap();
    let schema: Value = serde_json::from_str(include_str!("../grammar/negatives.schema.json")).unwrap();
    jsonschema::validate(&schema, &told).unwrap();
    told["rolls"].clone()
}

#[test]
fn a_page_has_the_roll_its_recipe_and_what_happened() {
    let all = rolls(&["E1"]);
    let one = &all[0];
    assert_eq!(
        (&one["film"], &one["index"], &one["shot"]),
        (&"marsh-100".into(), &100.into(), &"2026-10-02".into())
    );
    let session = &one["sessions"][0];
    assert_eq!(
        (&session["date"], &session["recipe"], &session["slot"], &session["slots"]),
        (&"2026-11-03".into(), &"marsh".into(), &1.into(), &2.into())
    );
    assert_eq!((&session["beside"], &session["unchanged"]), (&value!(["E2"]), &false.into()));
    assert_eq!(
        session["lines"],
        value!([
            { "statement": "doubt", "text": "weir-400 on the canister" },
            { "statement": "tank", "text": "five" },
            { "statement": "at", "text": "21 C" },
            { "statement": "note", "text": "\"fixer smelled stale\"" },
        ])
    );
}

/// A retracted session is shown as such. A session without a backlog developed the only roll of its label and format;
/// another label of it is a roll of its own, whose film is not known.
#[test]
fn a_session_without_a_backlog_counts_for_the_only_roll_of_its_label() {
    let all = rolls(&["E3", "Z9"]);
    assert_eq!(all[0]["film"], "weir-400");
    assert_eq!(all[0]["sessions"][0]["retracted"], "it was postponed");
    assert!(all[0]["sessions"][0]["unchanged"].is_null());
    assert_eq!(
        (&all[1]["label"], &all[1]["format"], &all[1]["film"]),
        (&"Z9".into(), &"135".into(), &Value::Null)
    );
}

#[test]
fn a_roll_that_waits_is_not_developed() {
    let text = with("roll \"E1\" 120 of marsh-100").args(["negatives", "E1"]).succeeds();
    assert!(text.contains("not developed by any session of the journal"), "{text}");
}

#[test]
fn an_unknown_label_gets_the_nearest_one() {
    let told = darkroom().args(["negatives", "EE1"]).fails(2).1;
    assert!(told.contains("no backlog and no session has the label 'EE1'"), "{told}");
    let told = with("roll \"autumn-12\" 120 of marsh-100").args(["negatives", "autumn-13"]).fails(2).1;
    assert!(told.contains("did you mean autumn-12?"), "{told}");
}

#[test]
fn a_sleeve_page_as_it_is_read() {
    insta::assert_snapshot!(darkroom().args(["negatives", "E1"]).succeeds());
    let run = darkroom().args(["negatives", "E1", "E2", "-o", "sleeves.pdf"]);
    run.succeeds();
    assert!(std::fs::read(run.folder().join("sleeves.pdf")).unwrap().starts_with(b"%PDF"));
}
