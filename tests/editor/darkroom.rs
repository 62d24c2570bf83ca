//! A darkroom in an editor: its bottles, backlogs and sessions followed, changed, completed, explained and folded.

use serde_json::{Value, json};

use super::client::Client;
use super::{place, range};

/// The solution and the film of the bottles and rolls.
const SHELF: &str = "wetside 1
film sluice-200 {
    speed     ISO 200
}
solution rapid-fix {
    role      fixer
    contains  ammonium-thiosulfate
    treats    10 rolls per 1 l at 1+4
}
";

/// A bottle, its test, and a roll that waits.
const BOTTLES_AND_BACKLOG: &str = "wetside 1
use \"shelf.wet\"
bath fix-a \"Fixer, bottle A\" {
    in        rapid-fix 1+4
    volume    2.5 l
    mixed     2026-11-02
}
test fix-a-1 {
    date      2026-11-10
    bath      fix-a
    film      sluice-200
    clears    1:15 at 20 C
}
backlog autumn \"The estuary\" {
    roll      \"E-01\" 120 of sluice-200 index 400 shot 2026-10-02
}
";

/// An evening, which uses them under a prefix, and was taken back.
const JOURNAL: &str = "wetside 1
use \"room.wet\" as lab
session evening-1 \"A cold night\" {
    date      2026-11-12
    recipe    night, fingerprint \"46ac83d1\"
    tank      tall-five
    at        21.5 C
    backlog   lab/autumn
    slot      1 \"E-01\" 120
    bath      lab/fix-a
}
retract evening-1 because \"it was a different tank\"
";

/// An editor that has the journal open, and the others beside it on the disk.
fn journal() -> Client {
    let mut client = Client::begun(&["utf-8"]);
    client.file("shelf.wet", SHELF);
    client.file("room.wet", BOTTLES_AND_BACKLOG);
    client.file("journal.wet", JOURNAL);
    assert_eq!(client.open("journal.wet", JOURNAL), [Value::Null; 0]);
    client
}

#[test]
fn a_bath_a_backlog_and_a_session_lead_to_where_they_are_declared() {
    let mut client = journal();
    for (at, file, found) in [
        ((9, 19), "room.wet", range(2, 5, 10)),
        ((7, 20), "room.wet", range(13, 8, 14)),
        ((11, 10), "journal.wet", range(2, 8, 17)),
        ((9, 15), "journal.wet", range(1, 18, 21)),
    ] {
        let there = json!({ "uri": client.uri(file), "range": found });
        assert_eq!(client.at("textDocument/definition", "journal.wet", at), there, "{at:?}");
    }
    // A recipe is named as it was called that day, and leads nowhere.
    assert_eq!(client.at("textDocument/definition", "journal.wet", (4, 16)), Value::Null);
    client.open("room.wet", BOTTLES_AND_BACKLOG);
    let there = json!({ "uri": client.uri("shelf.wet"), "range": range(4, 9, 18) });
    assert_eq!(client.at("textDocument/definition", "room.wet", (3, 16)), there);
    client.ends_well();
}

#[test]
fn a_bath_is_renamed_in_its_tests_and_in_journals_that_are_not_open() {
    let mut client = Client::begun(&["utf-8"]);
    client.file("shelf.wet", SHELF);
    client.file("journal.wet", JOURNAL);
    client.open("room.wet", BOTTLES_AND_BACKLOG);
    let edits = |ranges: &[Value]| -> Value {
        ranges.iter().map(|range| json!({ "range": range, "newText": "fix-spring" })).collect()
    };
    let changes = client.renamed("room.wet", (2, 6), "fix-spring");
    let wanted = json!({
        client.uri("room.wet"): edits(&[range(2, 5, 10), range(9, 14, 19)]),
        client.uri("journal.wet"): edits(&[range(9, 18, 23)]),
    });
    assert_eq!(changes, wanted);
    // From where it is used it is the same.
    client.open("journal.wet", JOURNAL);
    assert_eq!(client.renamed("journal.wet", (9, 20), "fix-spring"), wanted);
    let changes = client.renamed("journal.wet", (7, 20), "fix-spring");
    assert_eq!(changes[client.uri("room.wet")], edits(&[range(13, 8, 14)]));
    let changes = client.renamed("journal.wet", (2, 10), "fix-spring");
    assert_eq!(changes, json!({ client.uri("journal.wet"): edits(&[range(2, 8, 17), range(11, 8, 17)]) }));
    client.ends_well();
}

/// The completions at the end of a line that replaces this line.
fn offered(file: &str, text: &str, line: u32, written: &str) -> Vec<String> {
    let mut client = journal();
    let mut lines: Vec<&str> = text.lines().collect();
    *lines.get_mut(line as usize).unwrap() = written;
    client.open(file, &format!("{}\n", lines.join("\n")));
    let end = u32::try_from(written.len()).unwrap();
    let items = client.at("textDocument/completion", file, (line, end));
    client.ends_well();
    items.as_array().unwrap().iter().map(|item| item["label"].as_str().unwrap().to_owned()).collect()
}

#[test]
fn each_block_of_a_darkroom_offers_the_statements_it_still_allows() {
    let first = ["note", "caution", "revision", "tank", "ending", "step", "volume", "slot", "bath"];
    assert_eq!(offered("evening.wet", JOURNAL, 5, "    "), first);
    let second = JOURNAL.replace("wetside 1", "wetside 2");
    assert_eq!(
        offered("evening.wet", &second, 5, "    "),
        [
            &first[..2],
            &["planned", "planned-as"],
            &first[2..],
            &["anyway", "cleared", "took", "read", "dunk"],
        ]
        .concat()
    );
    assert_eq!(
        offered("bottles.wet", BOTTLES_AND_BACKLOG, 4, "    "),
        ["note", "caution", "volume", "discarded"]
    );
    assert_eq!(offered("bottles.wet", BOTTLES_AND_BACKLOG, 10, "    "), ["note", "caution", "film"]);
    assert_eq!(
        offered("bottles.wet", BOTTLES_AND_BACKLOG, 14, "    "),
        ["note", "caution", "recipe", "roll"]
    );
}

#[test]
fn the_next_words_of_a_darkroom_statement_are_offered() {
    for (written, wanted) in [
        ("    recipe    night, ", &["fingerprint"][..]),
        ("    recipe    night,", &["fingerprint"]),
        ("    recipe    night, fin", &["fingerprint"]),
        ("    bath      ", &["lab/fix-a"]),
        ("    bath      lab/f", &["lab/fix-a"]),
        ("    backlog   ", &["lab/autumn"]),
        ("    at        21 ", &["C", "F"]),
        ("    slot      1 ", &["120", "220", "135", "135-24", "4x5in", "8x10in"]),
        ("    slot      1 \"E-01\" ", &["120", "220", "135", "135-24", "4x5in", "8x10in"]),
        ("    slot      1 \"E-", &[]),
        ("    date      ", &[]),
    ] {
        assert_eq!(offered("evening.wet", JOURNAL, 5, written), wanted, "{written:?}");
    }
    assert_eq!(offered("evening.wet", JOURNAL, 11, "retract "), ["evening-1"]);
    assert_eq!(offered("evening.wet", JOURNAL, 11, "retract evening-1 "), ["because"]);
    for (line, written, wanted) in [
        (3, "    in        ", &["rapid-fix"][..]),
        (3, "    in        rapid-fix ", &["part", "stock"]),
        (9, "    bath      ", &["fix-a"]),
        (10, "    film      ", &["sluice-200"]),
        (11, "    clears    1:15 ", &["at"]),
        (11, "    clears    1:15 at 20 ", &["C", "F"]),
        (14, "    roll      \"E-01\" 120 ", &["of"]),
        (14, "    roll      \"E-01\" 120 of ", &["sluice-200"]),
        (14, "    roll      \"E-01\" 120 of sluice-200 ", &["index", "shot"]),
        (14, "    roll      \"E-01\" 120 of sluice-200 index 400 ", &["shot"]),
    ] {
        assert_eq!(offered("bottles.wet", BOTTLES_AND_BACKLOG, line, written), wanted, "{written:?}");
    }
}

#[test]
fn words_and_names_of_a_darkroom_are_explained() {
    let mut client = journal();
    for (at, begins) in [
        ((2, 3), "session NAME [TEXT] {\n"),
        ((3, 6), "date DATE\n"),
        ((4, 6), "recipe NAME, fingerprint TEXT\n"),
        ((7, 6), "backlog BACKLOG\n"),
        ((8, 6), "slot COUNT [TEXT] FORMAT [both sides] [doubt TEXT]\n"),
        ((9, 6), "bath BATH [, second] [doubt TEXT]\n"),
        ((9, 20), "Fixer, bottle A\nbath fix-a \"Fixer, bottle A\"\nroom.wet:3"),
        ((7, 20), "The estuary\nbacklog autumn \"The estuary\"\nroom.wet:14"),
        ((11, 3), "retract SESSION because TEXT\n"),
        ((11, 10), "A cold night\nsession evening-1 \"A cold night\"\njournal.wet:3"),
        ((6, 16), "21.5 °C = 70.7 °F"),
    ] {
        let shown = client.at("textDocument/hover", "journal.wet", at);
        let shown = shown["contents"]["value"].as_str().unwrap();
        assert!(shown.starts_with(begins), "{at:?}: {shown}");
    }
    client.ends_well();
}

#[test]
fn bottles_tests_backlogs_and_sessions_are_symbols_and_fold() {
    let mut client = journal();
    client.open("room.wet", BOTTLES_AND_BACKLOG);
    let mut asks = |file: &str, method: &str| {
        let asked = json!({ "textDocument": { "uri": client.uri(file) } });
        client.request(method, asked)
    };
    let symbols = asks("room.wet", "textDocument/documentSymbol");
    let told: Vec<_> = symbols.as_array().unwrap().iter().map(|one| (&one["name"], &one["detail"])).collect();
    let wanted = [("fix-a", "Fixer, bottle A"), ("fix-a-1", "test"), ("autumn", "The estuary")];
    assert_eq!(told.len(), wanted.len());
    for ((name, detail), wanted) in told.iter().zip(wanted) {
        assert_eq!((name.as_str().unwrap(), detail.as_str().unwrap()), wanted);
    }
    assert_eq!(symbols[0]["range"], json!({ "start": place(2, 0), "end": place(6, 1) }));
    assert_eq!(symbols[0]["selectionRange"], range(2, 5, 10));
    let symbols = asks("journal.wet", "textDocument/documentSymbol");
    assert_eq!((&symbols[0]["name"], &symbols[0]["detail"]), (&json!("evening-1"), &json!("A cold night")));
    // A backlog of one roll has one line within, and folds as well.
    for (file, wanted) in [("room.wet", &[(2, 5), (7, 11), (13, 14)][..]), ("journal.wet", &[(2, 9)])] {
        let folds = asks(file, "textDocument/foldingRange");
        let line = |fold: &Value, end: &str| fold[end].as_u64().unwrap();
        let folds: Vec<(u64, u64)> = folds
            .as_array()
            .unwrap()
            .iter()
            .map(|fold| (line(fold, "startLine"), line(fold, "endLine")))
            .collect();
        assert_eq!(folds, wanted, "{file}");
    }
    client.ends_well();
}
