//! Names of collections: what is offered, where a name leads, and that a rename stays in its own root.

use serde_json::{Value, json};

use super::client::Client;
use super::range;
use crate::collections::CLUB;

const OWN: &str = "wetside 2
use club

recipe mine from club/usual {
    note      \"a\"
}
";

/// An editor in a folder with the club's collection, and with one's own file open.
fn beside_the_club(own: &str) -> Client {
    let mut client = Client::begun(&["utf-8"]);
    client.file(".git/HEAD", "");
    CLUB.iter().for_each(|(name, text)| client.file(name, text));
    client.file("own.wet", own);
    client.open("own.wet", own);
    client
}

/// What is offered at the end of a line of one's own file, the second one.
fn offered(line: &str) -> Vec<Value> {
    let mut client = beside_the_club(&format!("wetside 2\n{line}\n"));
    client.file("lab.wet", "wetside 2\nagitation calm {\n    then 5 s every 1 min\n}\n");
    // A folder that is no collection.
    client.file("collections/notes/a.wet", "wetside 2\n");
    let end = u32::try_from(line.len()).unwrap();
    let items = client.at("textDocument/completion", "own.wet", (1, end));
    client.ends_well();
    items.as_array().unwrap().clone()
}

fn labels(items: &[Value]) -> Vec<&str> {
    items.iter().map(|item| item["label"].as_str().unwrap()).collect()
}

#[test]
fn the_collections_that_are_here_are_offered_after_use() {
    assert_eq!(labels(&offered("use ")), ["club"]);
    assert_eq!(labels(&offered("use cl")), ["club"]);
}

#[test]
fn what_a_collection_exports_is_offered_after_only() {
    let items = offered("use club only ");
    assert_eq!(labels(&items), ["estuary-400", "rapid-fix", "short", "usual"]);
    assert_eq!(items[1]["detail"], "a solution");
    assert_eq!(labels(&offered("use club only usual, ")), ["estuary-400", "rapid-fix", "short"]);
    assert_eq!(labels(&offered("use \"lab.wet\" only ")), ["calm"]);
    assert_eq!(offered("use nothing only "), [Value::Null; 0]);
}

#[test]
fn only_exported_names_of_a_collection_are_offered() {
    let mut client = beside_the_club(OWN);
    let items = client.at("textDocument/completion", "own.wet", (3, 22));
    assert_eq!(labels(items.as_array().unwrap()), ["club/short", "club/usual", "mine"]);
    let item = &items[1]["textEdit"];
    assert_eq!((&item["range"], &item["newText"]), (&range(3, 17, 27), &json!("club/usual")));
    client.ends_well();
}

/// `swap` takes the solutions that the file can name, those of a collection too.
#[test]
fn swap_completes_and_explains_its_solutions() {
    let own = "wetside 2\nuse club\n\nsolution my-fix \"My fixer\" {\n    role fixer\n}\n\nrecipe mine from club/usual {\n    swap club/rapid-fix 1+4 for my-fix 1+5\n}\n";
    let mut client = beside_the_club(own);
    let mut offered = |character| client.at("textDocument/completion", "own.wet", (8, character));
    assert_eq!(labels(offered(9).as_array().unwrap()), ["club/rapid-fix", "my-fix"]);
    assert_eq!(labels(offered(32).as_array().unwrap()), ["club/rapid-fix", "my-fix"]);
    assert!(labels(offered(27).as_array().unwrap()).contains(&"for"));
    let mut shown =
        |at| client.at("textDocument/hover", "own.wet", at)["contents"]["value"].as_str().unwrap().to_owned();
    assert!(
        shown((8, 5)).starts_with("swap SOLUTION [DILUTION] for SOLUTION [DILUTION]\n"),
        "{}",
        shown((8, 5))
    );
    assert_eq!(shown((8, 16)), "rapid-fix\nsolution rapid-fix\ncollections/club/baths.wet:6");
    assert_eq!(shown((8, 34)), "My fixer\nsolution my-fix \"My fixer\"\nown.wet:4");
    let declared = json!({ "uri": client.uri("collections/club/baths.wet"), "range": range(5, 9, 18) });
    assert_eq!(client.at("textDocument/definition", "own.wet", (8, 16)), declared);
    client.ends_well();
}

#[test]
fn a_name_leads_to_its_declaration_in_the_collection() {
    let mut client = beside_the_club(OWN);
    let recipes = "collections/club/recipes.wet";
    let declared = json!({ "uri": client.uri(recipes), "range": range(2, 7, 12) });
    assert_eq!(client.at("textDocument/definition", "own.wet", (3, 24)), declared);
    // The prefix leads to its `use` line, and the name in that line to the collection.
    let used = json!({ "uri": client.uri("own.wet"), "range": range(1, 4, 8) });
    assert_eq!(client.at("textDocument/definition", "own.wet", (3, 19)), used);
    let collection = "collections/club/collection.wet";
    let whole = json!({ "uri": client.uri(collection), "range": range(0, 0, 0) });
    assert_eq!(client.at("textDocument/definition", "own.wet", (1, 6)), whole);
    // From what the collection exports.
    let text = CLUB[0].1;
    client.open(collection, text);
    assert!(text.lines().nth(7).unwrap().starts_with("    exports   recipe usual"));
    assert_eq!(client.at("textDocument/definition", collection, (7, 23)), declared);
    client.ends_well();
}

#[test]
fn a_name_after_only_leads_to_its_declaration() {
    let mut client = beside_the_club("wetside 2\nuse club only usual\n");
    let declared = json!({ "uri": client.uri("collections/club/recipes.wet"), "range": range(2, 7, 12) });
    assert_eq!(client.at("textDocument/definition", "own.wet", (1, 16)), declared);
    client.ends_well();
}

#[test]
fn hover_shows_the_declaration_and_the_collection() {
    let mut client = beside_the_club(OWN);
    let mut shown =
        |at| client.at("textDocument/hover", "own.wet", at)["contents"]["value"].as_str().unwrap().to_owned();
    assert_eq!(shown((3, 24)), "usual\nrecipe usual\ncollections/club/recipes.wet:3");
    let collection = "Recipes of the harbour club\ncollection harbour \"Recipes of the harbour club\"\n\
                      collections/club/collection.wet:4";
    assert_eq!(shown((1, 6)), collection);
    client.ends_well();
}

#[test]
fn a_rename_never_changes_a_file_of_another_root() {
    let mut client = beside_the_club(OWN);
    let words = client.rename_refused("own.wet", (3, 24), "ordinary");
    assert_eq!(words, "collections/club/recipes.wet belongs to another root, so nothing was changed");
    // From the collection: one's own file, which is open, is of another root.
    let recipes = "collections/club/recipes.wet";
    client.open(recipes, CLUB[2].1);
    let words = client.rename_refused(recipes, (2, 9), "ordinary");
    assert_eq!(words, "own.wet belongs to another root, so nothing was changed");
    // The folder's name is no name that a rename can change.
    let words = client.rename_refused("own.wet", (3, 19), "harbour");
    assert!(words.ends_with("nothing was changed; write: use club as harbour"), "{words}");
    client.ends_well();
    // A prefix of one's own is.
    let mut client = beside_the_club(&OWN.replace("use club", "use club as h").replace("club/", "h/"));
    let changes = client.renamed("own.wet", (3, 17), "harbour");
    let edits = json!([
        { "range": range(1, 12, 13), "newText": "harbour" },
        { "range": range(3, 17, 18), "newText": "harbour" },
    ]);
    assert_eq!(changes, json!({ client.uri("own.wet"): edits }));
    client.ends_well();
}

/// Here the collection's files are the only ones: those of its author.
#[test]
fn a_rename_in_a_collection_of_ones_own_changes_what_it_exports() {
    let mut client = Client::begun(&["utf-8"]);
    client.file(".git/HEAD", "");
    let own = CLUB.iter().map(|(name, text)| (name.rsplit('/').next().unwrap(), *text));
    own.clone().for_each(|(name, text)| client.file(name, text));
    client.file("user.wet", "wetside 2\nuse \"recipes.wet\" only short\n");
    let (name, text) = own.clone().next_back().unwrap();
    client.open(name, text);
    let line =
        u32::try_from(text.lines().position(|line| line.starts_with("recipe short")).unwrap()).unwrap();
    let changes = client.renamed(name, (line, 9), "brief");
    let edit = |range: Value| json!([{ "range": range, "newText": "brief" }]);
    let wanted = json!({
        client.uri("recipes.wet"): edit(range(line, 7, 12)),
        client.uri("collection.wet"): edit(range(7, 28, 33)),
        client.uri("user.wet"): edit(range(1, 23, 28)),
    });
    assert_eq!(changes, wanted);
    client.ends_well();
}

#[test]
fn an_unknown_name_is_offered_with_the_prefix_of_a_collection() {
    let mut client = Client::begun(&["utf-8"]);
    CLUB.iter().for_each(|(name, text)| client.file(name, text));
    for name in ["usual", "club/usuall"] {
        let found = client.open("own.wet", &OWN.replace("club/usual", name));
        let [unknown] = found.as_slice() else { panic!("{found:?}") };
        assert_eq!(unknown["code"], "unknown-name");
        assert!(unknown["message"].as_str().unwrap().ends_with("help: write club/usual"), "{unknown}");
    }
    client.ends_well();
}
