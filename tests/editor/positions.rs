//! Columns are bytes or units of 16 bits, as both sides agreed.

use serde_json::json;

use super::client::Client;
use super::{place, range};

/// The wave in the title is 4 bytes and 2 units of 16 bits; the é is 2 bytes and one unit. The last
/// word of the line is one that does not belong there.
const TIDE: &str = "wetside 1\nfilm tide \"🌊é\" oddly {\n}\n";

#[test]
fn columns_are_bytes_if_the_editor_supports_them() {
    let mut client = Client::started();
    let encodings = json!({ "positionEncodings": ["utf-16", "utf-8"] });
    let begun = client.request("initialize", json!({ "capabilities": { "general": encodings } }));
    assert_eq!(begun["capabilities"]["positionEncoding"], "utf-8");
    assert_eq!(client.open("tide.wet", TIDE)[0]["range"], range(1, 19, 24));
    client.ends_well();
}

#[test]
fn columns_are_units_of_sixteen_bits_by_default() {
    let mut client = Client::started();
    let begun = client.request("initialize", json!({ "capabilities": {} }));
    assert_eq!(begun["capabilities"]["positionEncoding"], "utf-16");
    assert_eq!(client.open("tide.wet", TIDE)[0]["range"], range(1, 16, 21));
    client.ends_well();
}

/// The protocol grows, and an editor may be ahead of it.
#[test]
fn other_capabilities_of_the_editor_are_not_read() {
    let mut client = Client::started();
    let general = json!({ "positionEncodings": ["utf-64", 8, "utf-8"], "regularExpressions": 7 });
    let said = json!({ "capabilities": { "general": general, "textDocument": "all of it" } });
    assert_eq!(client.request("initialize", said)["capabilities"]["positionEncoding"], "utf-8");
    client.ends_well();
}

#[test]
fn a_change_after_wide_characters_has_the_right_range() {
    for (encoding, from, to) in [("utf-16", 15, 21), ("utf-8", 18, 24)] {
        let mut client = Client::begun(&[encoding]);
        client.open("tide.wet", TIDE);
        let changes = json!([{ "range": range(1, from, to), "text": "" }]);
        let document = json!({ "uri": client.uri("tide.wet"), "version": 2 });
        client
            .notify("textDocument/didChange", json!({ "textDocument": document, "contentChanges": changes }));
        let uri = client.uri("tide.wet");
        assert!(client.diagnostics(&uri).is_empty(), "in {encoding}");
        client.ends_well();
    }
}

#[test]
fn a_position_within_a_character_is_its_beginning() {
    let mut client = Client::begun(&["utf-16"]);
    client.open("tide.wet", TIDE);
    let changes = json!([{ "range": range(1, 12, 21), "text": "x\" {" }]);
    let document = json!({ "uri": client.uri("tide.wet"), "version": 2 });
    client.notify("textDocument/didChange", json!({ "textDocument": document, "contentChanges": changes }));
    let uri = client.uri("tide.wet");
    // The line is now `film tide "x" { {`.
    assert_eq!(client.diagnostics(&uri)[0]["code"], "stray-brace");
    client.ends_well();
}

#[test]
fn a_position_past_an_end_is_that_end() {
    let mut client = Client::begun(&["utf-16"]);
    client.open("tide.wet", TIDE);
    for at in [(1, 9_999), (9_999, 0), (u32::MAX, u32::MAX)] {
        for method in ["hover", "definition", "completion", "prepareRename"] {
            client.at(&format!("textDocument/{method}"), "tide.wet", at);
        }
    }
    let asked = json!({
        "textDocument": { "uri": client.uri("tide.wet") },
        "range": { "start": place(9, 9), "end": place(0, 0) },
        "context": { "diagnostics": [] },
    });
    client.request("textDocument/codeAction", asked.clone());
    client.request("textDocument/inlayHint", asked);
    client.ends_well();
}

#[test]
fn a_lone_carriage_return_ends_a_line_for_the_editor() {
    let mut client = Client::begun(&["utf-8"]);
    let told = client.open("old.wet", "wetside 1\n# one\rtwo\noddly\n");
    let oddly = told.iter().find(|told| told["code"] == "unknown-word").unwrap();
    assert_eq!(oddly["range"], range(3, 0, 5));
    client.ends_well();
}

/// An editor that keeps the mark in its text counts it: three bytes, or one unit of 16 bits.
#[test]
fn a_byte_order_mark_is_the_first_column_and_only_on_the_first_line() {
    for (encoding, width) in [("utf-8", 3), ("utf-16", 1)] {
        let mut client = Client::begun(&[encoding]);
        let told = client.open("tide.wet", "\u{feff}wetside 0\noddly\n");
        let at = |code: &str| told.iter().find(|told| told["code"] == code).unwrap()["range"].clone();
        assert_eq!(at("out-of-range"), range(0, 8 + width, 9 + width), "in {encoding}");
        assert_eq!(at("unknown-word"), range(1, 0, 5), "in {encoding}");
        let hovered = client.at("textDocument/hover", "tide.wet", (0, width));
        assert_eq!(hovered["range"], range(0, width, 7 + width), "in {encoding}");
        client.ends_well();
    }
}

#[test]
fn a_change_after_a_byte_order_mark_has_the_right_range() {
    for (encoding, width) in [("utf-8", 3), ("utf-16", 1)] {
        let mut client = Client::begun(&[encoding]);
        client.open("tide.wet", "\u{feff}wetside 2\n");
        let uri = client.uri("tide.wet");
        let change = |client: &mut Client, version: i32, from: u32, to: u32, text: &str| {
            let changes = json!([{ "range": range(0, from, to), "text": text }]);
            let document = json!({ "uri": uri, "version": version });
            let given = json!({ "textDocument": document, "contentChanges": changes });
            client.notify("textDocument/didChange", given);
            client.diagnostics(&uri)
        };
        assert_eq!(change(&mut client, 2, 8 + width, 9 + width, "1"), [json!(null); 0]);
        // The mark goes, and the columns with it.
        let told = change(&mut client, 3, 0, width, "");
        assert_eq!(told, [json!(null); 0]);
        let told = change(&mut client, 4, 8, 9, "3");
        assert_eq!(told[0]["range"], range(0, 0, 9), "in {encoding}");
        client.ends_well();
    }
}

#[test]
fn tidying_keeps_a_byte_order_mark() {
    let mut client = Client::begun(&["utf-16"]);
    client.open("tide.wet", "\u{feff}wetside   1\n");
    let edits = client.formatted("tide.wet");
    assert_eq!(edits[0]["range"]["start"], place(0, 1));
    client.ends_well();
}
