//! What is shown of a text: hover, symbols, folds and hints.

use serde_json::{Value, json};

use super::client::Client;
use super::{both, place, range};

fn hover(client: &mut Client, name: &str, at: (u32, u32)) -> String {
    let shown = client.at("textDocument/hover", name, at);
    assert_eq!(shown["contents"]["kind"], "plaintext", "{shown}");
    shown["contents"]["value"].as_str().unwrap().to_owned()
}

#[test]
fn a_word_is_explained_with_its_pattern_and_an_example() {
    let mut client = both();
    let shown = hover(&mut client, "bench.wet", (4, 6));
    assert!(shown.starts_with("needs VOLUME per roll\n"), "{shown}");
    assert!(shown.ends_with("such as: needs 250 ml per roll"), "{shown}");
    client.ends_well();
}

#[test]
fn hover_over_a_name_shows_its_title_and_declaration() {
    let mut client = both();
    let shown = hover(&mut client, "night.wet", (14, 20));
    assert_eq!(shown, "Borax brew\nsolution borax-brew \"Borax brew\"\nbench.wet:3");
    client.ends_well();
}

/// 1+3 is a quarter of it: 250 ml of a litre.
#[test]
fn a_dilution_is_shown_as_parts_of_a_litre() {
    let mut client = both();
    assert_eq!(hover(&mut client, "night.wet", (14, 30)), "for 1 l: 250 ml + 750 ml water");
    client.ends_well();
}

/// Worked by hand: 600 s to 375 s over 5 °C is 1.6, so 2.56 over 10 °C. A degree is a fifth of the way:
/// 600 / 1.6^(1/5) = 600 / 1.098561 = 546.2 s, and so on: 497.2, 452.6, 412.0 s.
#[test]
fn hover_over_a_chart_shows_its_coefficient_and_times() {
    let mut client = both();
    let wanted = "coefficient 2.56 per 10 °C\n20 °C  10:00\n21 °C  9:06\n22 °C  8:17\n23 °C  7:33\n24 °C  6:52\n25 °C  6:15";
    let shown = hover(&mut client, "night.wet", (15, 10));
    assert!(shown.starts_with("chart {\n") && shown.ends_with(wanted), "{shown}");
    let shown = hover(&mut client, "night.wet", (16, 13));
    assert_eq!(shown, format!("20 °C = 68 °F\n\n{wanted}"));
    client.ends_well();
}

#[test]
fn a_hover_over_blank_space_shows_nothing() {
    let mut client = both();
    assert_eq!(client.at("textDocument/hover", "night.wet", (1, 0)), Value::Null);
    client.ends_well();
}

#[test]
fn a_title_cannot_turn_the_text_of_a_hover() {
    let mut client = Client::begun(&["utf-8"]);
    client.open("odd.wet", "wetside 1\nfilm odd \"left\u{202e}right\" {\n}\n");
    let shown = hover(&mut client, "odd.wet", (1, 6));
    assert!(shown.contains("left") && !shown.contains('\u{202e}'), "{shown:?}");
    client.ends_well();
}

#[test]
fn declarations_and_steps_are_symbols() {
    let mut client = both();
    let asked = json!({ "textDocument": { "uri": client.uri("night.wet") } });
    let symbols = client.request("textDocument/documentSymbol", asked);
    let names: Vec<&Value> = symbols.as_array().unwrap().iter().map(|symbol| &symbol["name"]).collect();
    assert_eq!(names, ["sluice-200", "night"]);
    assert_eq!(symbols[0]["detail"], "Sluice 200");
    assert_eq!(symbols[0]["range"], json!({ "start": place(4, 0), "end": place(6, 1) }));
    assert_eq!(symbols[0]["selectionRange"], range(4, 5, 15));
    assert_eq!(symbols[1]["children"][0]["name"], "develop");
    client.ends_well();
}

#[test]
fn blocks_and_comments_of_several_lines_fold() {
    let mut client = both();
    let asked = json!({ "textDocument": { "uri": client.uri("night.wet") } });
    let folds = client.request("textDocument/foldingRange", asked);
    let folds: Vec<(u64, u64)> = folds
        .as_array()
        .unwrap()
        .iter()
        .map(|fold| (fold["startLine"].as_u64().unwrap(), fold["endLine"].as_u64().unwrap()))
        .collect();
    assert_eq!(folds, [(4, 5), (8, 9), (10, 20), (13, 19), (15, 17)]);
    client.ends_well();
}

#[test]
fn each_temperature_has_a_hint_in_the_other_unit() {
    let mut client = both();
    let asked = json!({
        "textDocument": { "uri": client.uri("night.wet") },
        "range": { "start": place(0, 0), "end": place(17, 0) },
    });
    let hints = client.request("textDocument/inlayHint", asked);
    assert_eq!(hints, json!([{ "position": place(16, 16), "label": "68 °F", "paddingLeft": true }]));
    client.ends_well();
}
