//! Definitions, references and renames of steps and bottles, also of inherited steps.

use serde_json::{Value, json};

use super::client::Client;
use super::{place, range};

/// A base with two named steps and one without a name.
const BASE: &str = "wetside 1
recipe base {
    fix basic {
        time      5:00
    }
    fix second after fix basic {
        time      5:00
    }
    wash {
        time      10:00
    }
}
";

/// Changes, places and removes inherited steps.
const CHILD: &str = "wetside 1
use \"base.wet\"
recipe child from base {
    fix basic {
        time      4:00
    }
    rinse after wash {
        time      1:00
    }
    without fix second
}
";

/// Derived from a derived recipe.
const GRANDCHILD: &str = "wetside 1
use \"child.wet\" as up
recipe grandchild from up/child {
    rest before fix basic {
        time      1:00
    }
}
";

const BOTTLES: &str = "wetside 1
solution pair {
    role      developer
    parts     a, b
    formula a for 1 l {
        water 1 l
    }
    formula b for 1 l {
        water 1 l
    }
}
solution other {
    role      developer
    parts     a, c
}
";

/// The base is open; the recipes derived from it are on the disk.
fn family() -> Client {
    let mut client = Client::begun(&["utf-8"]);
    client.file("child.wet", CHILD);
    client.file("grandchild.wet", GRANDCHILD);
    client.file("base.wet", BASE);
    client.open("base.wet", BASE);
    client
}

fn edits(ranges: &[Value]) -> Value {
    ranges.iter().map(|range| json!({ "range": range, "newText": "main" })).collect()
}

#[test]
fn the_definition_of_a_step_is_its_first_header() {
    let mut client = family();
    client.open("grandchild.wet", GRANDCHILD);
    client.open("child.wet", CHILD);
    let first = json!({ "uri": client.uri("base.wet"), "range": range(2, 8, 13) });
    // By its kind, by its name, in its own file, and through two generations.
    for (file, at) in [
        ("base.wet", (5, 22)),
        ("base.wet", (5, 26)),
        ("base.wet", (2, 10)),
        ("child.wet", (3, 10)),
        ("grandchild.wet", (3, 22)),
    ] {
        assert_eq!(client.at("textDocument/definition", file, at), first, "{file} {at:?}");
    }
    let dropped = client.at("textDocument/definition", "child.wet", (9, 18));
    assert_eq!(dropped, json!({ "uri": client.uri("base.wet"), "range": range(5, 8, 14) }));
    client.ends_well();
}

#[test]
fn a_step_without_a_name_is_followed_by_its_kind() {
    let mut client = family();
    client.open("child.wet", CHILD);
    let wash = json!({ "uri": client.uri("base.wet"), "range": range(8, 4, 8) });
    let said = json!({ "uri": client.uri("child.wet"), "range": range(6, 16, 20) });
    assert_eq!(client.at("textDocument/definition", "child.wet", (6, 17)), wash);
    assert_eq!(client.references("base.wet", (8, 5)), json!([wash, said]));
    let asked = client.place("base.wet", (8, 5));
    assert_eq!(client.request("textDocument/prepareRename", asked), Value::Null);
    let words = client.rename_refused("base.wet", (8, 5), "last");
    assert!(words.starts_with("this step has no name"), "{words}");
    client.ends_well();
}

#[test]
fn a_step_is_renamed_in_all_that_inherits_it() {
    let mut client = family();
    let asked = client.place("base.wet", (2, 10));
    let prepared = client.request("textDocument/prepareRename", asked);
    assert_eq!(prepared, json!({ "range": range(2, 8, 13), "placeholder": "basic" }));
    let changes = client.renamed("base.wet", (2, 10), "main");
    let wanted = json!({
        client.uri("base.wet"): edits(&[range(2, 8, 13), range(5, 25, 30)]),
        client.uri("child.wet"): edits(&[range(3, 8, 13)]),
        client.uri("grandchild.wet"): edits(&[range(3, 20, 25)]),
    });
    assert_eq!(changes, wanted);
    // The same from the last derived recipe.
    client.open("grandchild.wet", GRANDCHILD);
    assert_eq!(client.renamed("grandchild.wet", (3, 22), "main"), wanted);
    let changes = client.renamed("base.wet", (5, 10), "main");
    assert_eq!(changes[client.uri("child.wet")], edits(&[range(9, 16, 22)]));
    client.ends_well();
}

#[test]
fn a_step_of_the_same_name_in_another_recipe_is_not_renamed() {
    let mut client = family();
    client.file("other.wet", BASE);
    let changes = client.renamed("base.wet", (2, 10), "main");
    assert_eq!(changes[client.uri("other.wet")], Value::Null);
    client.ends_well();
}

#[test]
fn a_step_that_was_removed_and_added_again_is_another_step() {
    let text = CHILD.replace(
        "    without fix second\n",
        "    without fix second\n    fix second after fix basic {\n        time      2:00\n    }\n",
    );
    let mut client = family();
    client.file("child.wet", &text);
    let changes = client.renamed("base.wet", (5, 10), "main");
    assert_eq!(changes[client.uri("child.wet")], edits(&[range(9, 16, 22)]));
    client.open("child.wet", &text);
    let changes = client.renamed("child.wet", (10, 10), "main");
    assert_eq!(changes, json!({ client.uri("child.wet"): edits(&[range(10, 8, 14)]) }));
    client.ends_well();
}

#[test]
fn a_name_of_an_inherited_step_is_refused() {
    let mut client = family();
    let words = client.rename_refused("base.wet", (2, 10), "second");
    assert_eq!(words, "base in base.wet has a step fix second already");
    // Another kind of step may have this name.
    client.file("grandchild.wet", GRANDCHILD.replace("rest", "rest main"));
    assert_eq!(client.renamed("base.wet", (2, 10), "main").as_object().unwrap().len(), 3);
    client.file("grandchild.wet", GRANDCHILD.replace("rest", "fix main"));
    let words = client.rename_refused("base.wet", (2, 10), "main");
    assert_eq!(words, "grandchild in grandchild.wet has a step fix main already");
    for no_name in ["before", "Main", "main 2", ""] {
        let words = client.rename_refused("base.wet", (2, 10), no_name);
        assert!(words.starts_with("a name has small letters"), "{words}");
    }
    client.ends_well();
}

#[test]
fn a_bottle_is_followed_and_changed_within_its_solution() {
    let mut client = Client::begun(&["utf-8"]);
    client.open("pair.wet", BOTTLES);
    let found = client.at("textDocument/definition", "pair.wet", (4, 13));
    assert_eq!(found, json!({ "uri": client.uri("pair.wet"), "range": range(3, 14, 15) }));
    let changes = client.renamed("pair.wet", (3, 14), "main");
    assert_eq!(changes, json!({ client.uri("pair.wet"): edits(&[range(3, 14, 15), range(4, 12, 13)]) }));
    let words = client.rename_refused("pair.wet", (3, 14), "b");
    assert_eq!(words, "pair in pair.wet has a bottle b already");
    assert!(client.renamed("pair.wet", (3, 14), "c").is_object());
    client.ends_well();
}

#[test]
fn recipes_in_a_circle_end_in_order() {
    let mut client = Client::begun(&["utf-8"]);
    let text = "wetside 1
recipe one from two {
    fix slow {
    }
}
recipe two from one {
    without fix slow
}
";
    client.open("circle.wet", text);
    client.references("circle.wet", (2, 8));
    client.renamed("circle.wet", (2, 8), "main");
    let asked = json!({ "textDocument": { "uri": client.uri("circle.wet") }, "position": place(6, 16) });
    client.request("textDocument/definition", asked);
    client.ends_well();
}
