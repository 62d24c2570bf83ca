//! Definitions, references and renames across files.

use serde_json::{Value, json};

use super::client::Client;
use super::{BENCH, NIGHT, both, place, range};

/// Uses the bench under a prefix.
const LATE: &str = "wetside 1
use \"bench.wet\" as lab
recipe late {
    develop {
        in        lab/borax-brew 1+3
    }
}
";

fn three() -> Client {
    let mut client = both();
    client.open("late.wet", LATE);
    client
}

#[test]
fn a_name_leads_to_its_declaration_in_another_file() {
    let mut client = both();
    let found = client.at("textDocument/definition", "night.wet", (14, 20));
    assert_eq!(found, json!({ "uri": client.uri("bench.wet"), "range": range(2, 9, 19) }));
    client.ends_well();
}

#[test]
fn a_name_leads_into_a_file_that_is_not_open() {
    let mut client = Client::begun(&["utf-8"]);
    client.file("bench.wet", BENCH);
    client.open("night.wet", NIGHT);
    let found = client.at("textDocument/definition", "night.wet", (14, 20));
    assert_eq!(found, json!({ "uri": client.uri("bench.wet"), "range": range(2, 9, 19) }));
    client.ends_well();
}

#[test]
fn a_path_leads_to_its_file_and_a_prefix_to_its_use() {
    let mut client = three();
    let found = client.at("textDocument/definition", "late.wet", (1, 8));
    assert_eq!(found, json!({ "uri": client.uri("bench.wet"), "range": range(0, 0, 0) }));
    let found = client.at("textDocument/definition", "late.wet", (4, 19));
    assert_eq!(found, json!({ "uri": client.uri("late.wet"), "range": range(1, 19, 22) }));
    client.ends_well();
}

#[test]
fn references_list_every_file_that_mentions_a_name() {
    let mut client = three();
    for includes in [true, false] {
        let mut asked = client.place("bench.wet", (2, 12));
        asked["context"] = json!({ "includeDeclaration": includes });
        let found = client.request("textDocument/references", asked);
        let own = json!({ "uri": client.uri("bench.wet"), "range": range(2, 9, 19) });
        let mut wanted = vec![
            json!({ "uri": client.uri("late.wet"), "range": range(4, 22, 32) }),
            json!({ "uri": client.uri("night.wet"), "range": range(14, 18, 28) }),
        ];
        if includes {
            wanted.insert(0, own);
        }
        assert_eq!(found, json!(wanted));
    }
    client.ends_well();
}

#[test]
fn a_rename_changes_every_mention_and_keeps_prefixes() {
    let mut client = three();
    let asked = client.place("late.wet", (4, 25));
    let prepared = client.request("textDocument/prepareRename", asked);
    assert_eq!(prepared, json!({ "range": range(4, 22, 32), "placeholder": "borax-brew" }));
    let changes = client.renamed("late.wet", (4, 25), "second-brew");
    let edit = |range: Value| json!([{ "range": range, "newText": "second-brew" }]);
    assert_eq!(changes[client.uri("bench.wet")], edit(range(2, 9, 19)));
    assert_eq!(changes[client.uri("late.wet")], edit(range(4, 22, 32)));
    assert_eq!(changes[client.uri("night.wet")], edit(range(14, 18, 28)));
    client.ends_well();
}

#[test]
fn a_prefix_is_renamed_in_its_own_file() {
    let mut client = three();
    let changes = client.renamed("late.wet", (4, 19), "shelf");
    let edits = json!([
        { "range": range(1, 19, 22), "newText": "shelf" },
        { "range": range(4, 18, 21), "newText": "shelf" },
    ]);
    assert_eq!(changes, json!({ client.uri("late.wet"): edits }));
    client.ends_well();
}

#[test]
fn an_invalid_or_taken_new_name_is_refused() {
    let mut client = both();
    let two = BENCH.to_owned() + "\nsolution second-brew {\n    role      developer\n}\n";
    client.change("bench.wet", 2, &two);
    for no_name in ["Borax", "borax brew", "water", "", "9-brew", "lab/brew"] {
        let words = client.rename_refused("night.wet", (14, 20), no_name);
        assert!(words.starts_with("a name has small letters"), "{words}");
    }
    let words = client.rename_refused("night.wet", (14, 20), "second-brew");
    assert!(words.contains("second-brew already"), "{words}");
    client.ends_well();
}

#[test]
fn a_word_that_is_not_a_name_cannot_be_renamed() {
    let mut client = both();
    let asked = client.place("night.wet", (5, 6));
    assert_eq!(client.request("textDocument/prepareRename", asked), Value::Null);
    client.rename_refused("night.wet", (5, 6), "swift");
    assert_eq!(client.at("textDocument/definition", "night.wet", (5, 6)), Value::Null);
    let asked = json!({
        "textDocument": { "uri": client.uri("night.wet") },
        "position": place(5, 6),
        "context": { "includeDeclaration": true },
    });
    assert_eq!(client.request("textDocument/references", asked), json!([]));
    client.ends_well();
}

#[test]
fn each_line_that_uses_a_file_leads_to_it() {
    let mut client = Client::begun(&["utf-8"]);
    client.file("bench.wet", BENCH);
    let text = "wetside 1\nuse \"bench.wet\"\nuse \"bench.wet\"\nuse \"./bench.wet\"\nuse \"bench.wet\" as lab\nuse \"no.wet\"\n";
    client.open("twice.wet", text);
    let asked = json!({ "textDocument": { "uri": client.uri("twice.wet") } });
    let links = client.request("textDocument/documentLink", asked);
    let bench = client.uri("bench.wet");
    let link = |line: u32, end: u32| json!({ "range": range(line, 4, end), "target": bench });
    assert_eq!(links, json!([link(1, 15), link(2, 15), link(3, 17), link(4, 15)]));
    for line in 1..=4 {
        let found = client.at("textDocument/definition", "twice.wet", (line, 7));
        assert_eq!(found, json!({ "uri": bench, "range": range(0, 0, 0) }), "line {line}");
    }
    client.ends_well();
}
