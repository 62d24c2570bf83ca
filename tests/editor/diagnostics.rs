//! Diagnostics while typing, and the fixes that are offered for them.

use serde_json::{Value, json};

use super::client::Client;
use super::{BENCH, NIGHT, both, place, range};

fn names(told: &[Value]) -> Vec<&str> {
    told.iter().map(|told| told["code"].as_str().unwrap()).collect()
}

#[test]
fn an_error_is_published_while_typing_and_removed_once_fixed() {
    let mut client = Client::begun(&["utf-8"]);
    assert_eq!(client.open("bench.wet", BENCH), [Value::Null; 0]);
    let told = client.change("bench.wet", 2, &BENCH.replace("250 ml", "250 oz"));
    assert_eq!(names(&told), ["ambiguous-unit"]);
    assert_eq!(told[0]["severity"], 1);
    assert_eq!(told[0]["source"], "wetside");
    assert_eq!(told[0]["range"], range(4, 18, 20));
    assert!(told[0]["message"].as_str().unwrap().contains("help: write us-fl-oz"), "{}", told[0]);
    assert_eq!(client.change("bench.wet", 3, BENCH), [Value::Null; 0]);
    client.ends_well();
}

#[test]
fn an_open_text_replaces_its_file_on_the_disk() {
    let mut client = Client::begun(&["utf-8"]);
    client.file("bench.wet", "wetside 1\n");
    assert_eq!(names(&client.open("night.wet", NIGHT)), ["unknown-name"]);
    client.open("bench.wet", BENCH);
    let uri = client.uri("night.wet");
    assert_eq!(client.diagnostics(&uri), [Value::Null; 0]);
    client.ends_well();
}

#[test]
fn the_errors_of_a_used_file_on_the_disk_are_published() {
    let mut client = Client::begun(&["utf-8"]);
    client.file("bench.wet", BENCH.replace("role      developer", "role      developper"));
    client.open("night.wet", NIGHT);
    client.notify("textDocument/didSave", json!({ "textDocument": { "uri": client.uri("night.wet") } }));
    let uri = client.uri("bench.wet");
    assert_eq!(client.diagnostics(&uri).len(), 1);
    client.notify("textDocument/didClose", json!({ "textDocument": { "uri": client.uri("night.wet") } }));
    assert_eq!(client.diagnostics(&uri), [Value::Null; 0]);
    client.ends_well();
}

#[test]
fn a_second_place_is_related_information() {
    let mut client = Client::begun(&["utf-8"]);
    let told = client.open("two.wet", "wetside 1\nfilm a {\n}\nfilm a {\n}\n");
    assert_eq!(names(&told), ["repeated-name"]);
    let other = &told[0]["relatedInformation"][0];
    assert_eq!(other["location"], json!({ "uri": client.uri("two.wet"), "range": range(1, 5, 6) }));
    client.ends_well();
}

#[test]
fn nothing_outside_the_root_is_opened() {
    let mut client = Client::begun(&["utf-8"]);
    let told = client.open("out.wet", "wetside 1\nuse \"../../etc/passwd.wet\"\n");
    assert_eq!(names(&told), ["use-outside"]);
    client.ends_well();
}

#[test]
fn every_fix_of_a_diagnostic_is_a_code_action() {
    let mut client = both();
    client.change("night.wet", 2, &NIGHT.replace("1+3", "1:4"));
    let asked = json!({
        "textDocument": { "uri": client.uri("night.wet") },
        "range": { "start": place(14, 30), "end": place(14, 30) },
        "context": { "diagnostics": [] },
    });
    let actions = client.request("textDocument/codeAction", asked);
    let uri = client.uri("night.wet");
    let texts: Vec<&Value> =
        actions.as_array().unwrap().iter().map(|action| &action["edit"]["changes"][&uri][0]).collect();
    assert_eq!(
        texts,
        [
            &json!({ "range": range(14, 29, 32), "newText": "1+4" }),
            &json!({ "range": range(14, 29, 32), "newText": "1+3" }),
        ]
    );
    assert_eq!(actions[0]["kind"], "quickfix");
    assert_eq!(actions[0]["isPreferred"], false);
    client.ends_well();
}

/// 2,000 diagnostics of a text are published, and the number of the others.
#[test]
fn the_diagnostics_of_a_text_are_limited() {
    let mut client = Client::begun(&["utf-8"]);
    let told = client.open("long.wet", &format!("wetside 1\n{}", "nonsense\n".repeat(2_005)));
    assert_eq!(told.len(), 2_001);
    let last = told[2_000]["message"].as_str().unwrap();
    assert!(last.starts_with("5 more diagnostics are not shown"), "{last}");
    client.ends_well();
}

#[test]
fn the_edition_of_a_file_is_raised_by_one_code_action() {
    let mut client = Client::begun(&["utf-8"]);
    let text = "wetside 1\n\nrecipe trial {\n    wash {\n        light     safe\n        note      \"5\"\" by 7\"\"\"\n    }\n}\n";
    let told = client.open("trial.wet", text);
    assert!(names(&told).contains(&"newer-edition"), "{told:?}");
    let asked = json!({
        "textDocument": { "uri": client.uri("trial.wet") },
        "range": { "start": place(5, 20), "end": place(5, 20) },
        "context": { "diagnostics": [] },
    });
    let actions = client.request("textDocument/codeAction", asked);
    let uri = client.uri("trial.wet");
    let edits = &actions[0]["edit"]["changes"][&uri];
    assert_eq!(edits[0], json!({ "range": range(0, 8, 9), "newText": "2" }), "{actions}");
    assert_eq!(edits[1], json!({ "range": range(4, 18, 22), "newText": "room" }), "{actions}");
    assert_eq!(actions[0]["isPreferred"], true);
    client.ends_well();
}
