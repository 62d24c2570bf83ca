//! The words of edition 2 in an editor: completion, hover, definitions and renames.

use serde_json::{Value, json};

use super::client::Client;
use super::range;

/// Lines are counted from 0.
const PRINT: &str = "wetside 2

ingredient mordant \"Mordant\" {
    hazards   H302
}

paper pearl {
    source    \"invented\"
}

solution pair {
    role      developer
    parts     a, b
    contains  mordant 2 %
}

recipe print {
    paper     pearl
    light     room

    coat {
        in        pair part a
        time      1:00
    }
    develop first-bath {
        in        pair part b bath one, one-shot
        time      2:00
    }
    wash {
        in        water
        time      2:00
    }
    tone {
        in        used develop first-bath
        time      2:00
    }
    repeat    from develop first-bath to wash, 3 times
}
";

fn open() -> Client {
    let mut client = Client::begun(&["utf-8"]);
    client.open("print.wet", PRINT);
    client
}

/// The completions at the end of a line in place of line 26, `time 2:00` of the development.
fn labels(line: &str) -> Vec<String> {
    let text: String = PRINT
        .lines()
        .enumerate()
        .map(|(at, own)| format!("{}\n", if at == 26 { line } else { own }))
        .collect();
    let mut client = Client::begun(&["utf-8"]);
    client.open("print.wet", &text);
    let items = client.at("textDocument/completion", "print.wet", (26, u32::try_from(line.len()).unwrap()));
    client.ends_well();
    items.as_array().unwrap().iter().map(|item| item["label"].as_str().unwrap().to_owned()).collect()
}

#[test]
fn the_words_of_a_time_are_offered() {
    assert_eq!(labels("        time      "), ["until", "by"]);
    assert_eq!(labels("        time      3 x "), ["clearing", "parent"]);
    assert_eq!(labels("        time      until \"it is dark\", "), ["at", "look"]);
    assert_eq!(labels("        time      until \"it is dark\", at "), ["least", "most"]);
}

#[test]
fn the_words_of_light_and_of_a_dropped_statement_are_offered() {
    assert_eq!(labels("        light     "), ["none", "room", "safelight"]);
    let without = labels("        without   ");
    assert!(without.is_empty() || without.iter().any(|word| word == "agitate"), "{without:?}");
}

#[test]
fn declared_ingredients_are_offered_after_those_of_the_table() {
    let mut client = Client::begun(&["utf-8"]);
    let text = PRINT.replace("    contains  mordant 2 %\n", "    contains  \n");
    client.open("print.wet", &text);
    let items = client.at("textDocument/completion", "print.wet", (13, 14));
    let last = items.as_array().unwrap().last().unwrap().clone();
    assert_eq!((&last["label"], &last["detail"]), (&json!("mordant"), &json!("Mordant")));
    assert!(items.as_array().unwrap().iter().any(|item| item["label"] == "metol"));
    client.ends_well();
}

#[test]
fn new_words_are_explained() {
    let mut client = open();
    for (line, begins) in [
        (2, "ingredient NAME [TEXT] {"),
        (6, "paper NAME [TEXT] {"),
        (20, "coat [NAME]"),
        (36, "repeat from STEP [NAME] to STEP [NAME], COUNT times"),
    ] {
        let at = (line, if line == 2 || line == 6 { 2 } else { 5 });
        let shown = client.at("textDocument/hover", "print.wet", at);
        let words = shown["contents"]["value"].as_str().unwrap_or_default();
        assert!(words.starts_with(begins), "{line}: {shown}");
    }
    client.ends_well();
}

#[test]
fn a_used_bath_and_a_repeat_lead_to_their_step_and_a_part_to_its_bottle() {
    let mut client = open();
    let step = json!({ "uri": client.uri("print.wet"), "range": range(24, 12, 22) });
    assert_eq!(client.at("textDocument/definition", "print.wet", (33, 35)), step);
    assert_eq!(client.at("textDocument/definition", "print.wet", (36, 30)), step);
    let bottle = json!({ "uri": client.uri("print.wet"), "range": range(12, 14, 15) });
    assert_eq!(client.at("textDocument/definition", "print.wet", (21, 28)), bottle);
    let ingredient = json!({ "uri": client.uri("print.wet"), "range": range(2, 11, 18) });
    assert_eq!(client.at("textDocument/definition", "print.wet", (13, 16)), ingredient);
    client.ends_well();
}

/// Renaming a step, a bottle or an ingredient changes every place that names it, so that the file stays right.
#[test]
fn a_rename_reaches_the_new_words() {
    let mut client = open();
    let places = |changes: &Value, client: &Client| -> Vec<u64> {
        let edits = changes[client.uri("print.wet")].as_array().unwrap().clone();
        edits.iter().map(|edit| edit["range"]["start"]["line"].as_u64().unwrap()).collect()
    };
    let changes = client.renamed("print.wet", (24, 14), "basic");
    assert_eq!(places(&changes, &client), [24, 33, 36]);
    let changes = client.renamed("print.wet", (12, 14), "left");
    assert_eq!(places(&changes, &client), [12, 21]);
    let changes = client.renamed("print.wet", (2, 12), "salt");
    assert_eq!(places(&changes, &client), [2, 13]);
    client.ends_well();
}
