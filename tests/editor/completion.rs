//! Completion in statements that are not finished.

use serde_json::Value;

use super::client::Client;
use super::{BENCH, NIGHT, range};

/// The completions at the end of a line that replaces the agitation of the step.
fn offered(line: &str) -> Vec<Value> {
    let mut client = Client::begun(&["utf-8"]);
    client.open("bench.wet", BENCH);
    client.open("night.wet", &NIGHT.replace("        agitate   continuous", line));
    let end = u32::try_from(line.len()).unwrap();
    let items = client.at("textDocument/completion", "night.wet", (19, end));
    client.ends_well();
    items.as_array().unwrap().clone()
}

fn labels(line: &str) -> Vec<String> {
    offered(line).iter().map(|item| item["label"].as_str().unwrap().to_owned()).collect()
}

#[test]
fn a_step_offers_the_statements_it_still_allows() {
    let labels = labels("        ");
    for word in ["agitate", "time", "between", "handling", "note"] {
        assert!(labels.iter().any(|label| label == word), "{word} is not among {labels:?}");
    }
    for word in ["in", "chart", "film", "fills", "needs"] {
        assert!(!labels.iter().any(|label| label == word), "{word} is among {labels:?}");
    }
}

#[test]
fn a_completion_replaces_the_whole_word() {
    let items = offered("        agi");
    let item = items.iter().find(|item| item["label"] == "agitate").unwrap();
    assert_eq!(item["textEdit"]["range"], range(19, 8, 11));
    assert_eq!(item["textEdit"]["newText"], "agitate");
}

#[test]
fn names_of_the_expected_kind_are_offered() {
    assert_eq!(labels("        in        "), ["water", "borax-brew"]);
    assert_eq!(labels("        in        bor"), ["water", "borax-brew"]);
}

#[test]
fn units_of_the_expected_kind_are_offered_after_a_number() {
    assert_eq!(labels("        within    0.3 "), ["C", "F"]);
    assert_eq!(labels("        handling  2 "), ["s", "min", "h"]);
}

#[test]
fn the_next_words_of_a_statement_are_offered() {
    assert_eq!(labels("        between   18 C "), ["and"]);
    assert_eq!(labels("        clock     from "), ["pour", "full"]);
    assert_eq!(labels("        in        borax-brew 1+3, "), ["one-shot", "reused", "replenished"]);
}

#[test]
fn rules_are_offered_with_their_meaning() {
    let mut client = Client::begun(&["utf-8"]);
    client.open("base.wet", "wetside 1\nallow \nrecipe a {\n    allow short-fix \n}\n");
    let rules = client.at("textDocument/completion", "base.wet", (1, 6));
    let of = |name: &str| rules.as_array().unwrap().iter().find(|item| item["label"] == name).cloned();
    let told = "fixing for less than twice the clearing time, or three times for tabular grain";
    assert_eq!(of("short-fix").unwrap()["detail"], told);
    assert!(of("missing-word").is_none(), "a rule that cannot be allowed is offered");
    let because = client.at("textDocument/completion", "base.wet", (3, 20));
    assert_eq!(because[0]["label"], "because");
    client.ends_well();
}

#[test]
fn the_kinds_of_steps_are_offered_after_before() {
    let mut client = Client::begun(&["utf-8"]);
    client.open("base.wet", "wetside 1\nrecipe a from b {\n    stop before \n}\n");
    let items = client.at("textDocument/completion", "base.wet", (2, 16));
    let labels: Vec<&str> =
        items.as_array().unwrap().iter().map(|item| item["label"].as_str().unwrap()).collect();
    assert_eq!(labels.len(), 14);
    assert!(labels.contains(&"bleach-fix") && !labels.contains(&"coat"), "{labels:?}");
    client.ends_well();
}

#[test]
fn a_block_that_is_not_closed_yet_is_known() {
    let mut client = Client::begun(&["utf-8"]);
    client.open("new.wet", "wetside 1\ntank tall {\n    ");
    let items = client.at("textDocument/completion", "new.wet", (2, 4));
    let labels: Vec<&str> =
        items.as_array().unwrap().iter().map(|item| item["label"].as_str().unwrap()).collect();
    assert!(labels.contains(&"reels") && !labels.contains(&"film"), "{labels:?}");
    client.ends_well();
}

#[test]
fn nothing_is_offered_in_a_comment_or_a_text() {
    assert_eq!(offered("        # in "), [Value::Null; 0]);
    assert_eq!(offered("        note \"in "), [Value::Null; 0]);
}

/// One edit over the whole text makes it tidy; a text whose blocks do not pair is left as it is.
#[test]
fn formatting_gives_the_layout_of_tidy() {
    let mut client = Client::begun(&["utf-8"]);
    let rough = "wetside 1\nagitation still{\nnone\n}\n";
    client.open("rough.wet", rough);
    let edits = client.formatted("rough.wet");
    assert_eq!(edits[0]["newText"], "wetside 1\n\nagitation still {\n    none\n}\n");
    assert_eq!(edits[0]["range"]["start"], super::place(0, 0));
    client.change("rough.wet", 2, edits[0]["newText"].as_str().unwrap());
    assert_eq!(client.formatted("rough.wet"), serde_json::json!([]));
    client.change("rough.wet", 3, "wetside 1\nagitation still{\nnone\n");
    assert_eq!(client.formatted("rough.wet"), serde_json::json!([]));
    client.ends_well();
}

#[test]
fn a_deprecated_recipe_is_struck_out_and_says_why() {
    let text = "wetside 2\nrecipe old {\n    deprecated because \"too short\", use new\n    rinse {\n        in        water\n        time      1:00\n    }\n}\nrecipe new from old {\n    rinse {\n        time      2:00\n    }\n}\nrecipe mine from old {\n    rinse {\n        time      3:00\n    }\n}\n";
    let mut client = Client::begun(&["utf-8"]);
    client.open("own.wet", text);
    let items = client.at("textDocument/completion", "own.wet", (13, 17));
    let named =
        |name: &str| items.as_array().unwrap().iter().find(|item| item["label"] == name).unwrap().clone();
    assert_eq!((&named("old")["tags"], &named("new")["tags"]), (&serde_json::json!([1]), &Value::Null));
    assert_eq!(named("old")["documentation"], "deprecated: too short; use new");
    let shown = client.at("textDocument/hover", "own.wet", (13, 19));
    assert_eq!(shown["contents"]["value"], "old\nrecipe old\nown.wet:2\ndeprecated: too short; use new");
    client.ends_well();
}

/// The words of edition 2 in a file of edition 1 are an error, so only a file of edition 2 is offered them.
#[test]
fn only_words_of_the_files_edition_are_offered() {
    let offered = |edition: &str, file: &str, line: u32| {
        let mut client = Client::begun(&["utf-8"]);
        client.open("new.wet", &format!("{edition}\n{file}"));
        let end = u32::try_from(file.lines().nth(line as usize - 1).unwrap().len()).unwrap();
        let items = client.at("textDocument/completion", "new.wet", (line, end));
        client.ends_well();
        let labels = items.as_array().unwrap().iter().map(|item| item["label"].as_str().unwrap().to_owned());
        labels.collect::<Vec<_>>()
    };
    // A statement, a word that a statement gained, a new choice of a slot, and a clause.
    for (file, line, newer) in [
        ("recipe r {\n    \n}\n", 2, "repeat"),
        ("paper p {\n}\n\n", 3, "ingredient"),
        ("recipe r {\n    fix {\n        time \n    }\n}\n", 3, "until"),
        ("recipe r {\n    fix {\n        light \n    }\n}\n", 3, "safelight"),
        ("solution s {\n    role \n}\n", 2, "treatment"),
    ] {
        let [first, second, none] =
            ["wetside 1", "wetside 2", "# no edition yet"].map(|edition| offered(edition, file, line));
        assert!(!first.iter().any(|word| word == newer), "{newer}: {first:?}");
        assert!(second.iter().any(|word| word == newer), "{newer}: {second:?}");
        let apart =
            |words: &[String]| words.iter().filter(|word| *word != "wetside").cloned().collect::<Vec<_>>();
        assert_eq!(second, apart(&none), "without an edition, all words are offered");
    }
    let safe = |edition| offered(edition, "recipe r {\n    fix {\n        light \n    }\n}\n", 3);
    assert_eq!(safe("wetside 1"), ["safe"]);
}
