//! Definitions, references and renames in files that are not open and that no open file uses.

use serde_json::{Value, json};

use super::client::Client;
use super::{BENCH, NIGHT, range};

/// Uses the bench from a folder beside it, under a prefix.
const FAR: &str = "wetside 1
use \"../bench.wet\" as lab
recipe far {
    develop {
        in        lab/borax-brew 1+3
    }
}
";

/// The bench is open; the files that use it are only on the disk.
fn shelf() -> Client {
    let mut client = Client::begun(&["utf-8"]);
    client.file(".git/HEAD", "");
    client.file("bench.wet", BENCH);
    client.file("night.wet", NIGHT);
    client.file("far/far.wet", FAR);
    client.open("bench.wet", BENCH);
    client
}

fn edit(range: Value) -> Value {
    json!([{ "range": range, "newText": "second-brew" }])
}

#[test]
fn a_name_is_renamed_in_files_that_are_not_open() {
    let mut client = shelf();
    let changes = client.renamed("bench.wet", (2, 12), "second-brew");
    let wanted = json!({
        client.uri("bench.wet"): edit(range(2, 9, 19)),
        client.uri("far/far.wet"): edit(range(4, 22, 32)),
        client.uri("night.wet"): edit(range(14, 18, 28)),
    });
    assert_eq!(changes, wanted);
    client.ends_well();
}

#[test]
fn references_include_files_that_are_not_open() {
    let mut client = shelf();
    let wanted = json!([
        { "uri": client.uri("bench.wet"), "range": range(2, 9, 19) },
        { "uri": client.uri("far/far.wet"), "range": range(4, 22, 32) },
        { "uri": client.uri("night.wet"), "range": range(14, 18, 28) },
    ]);
    assert_eq!(client.references("bench.wet", (2, 12)), wanted);
    // From a file that only mentions the name.
    let mut client = shelf();
    client.open("far/far.wet", FAR);
    let found = client.references("far/far.wet", (4, 25));
    assert_eq!(found.as_array().unwrap().len(), 3, "{found}");
    client.ends_well();
}

#[test]
fn an_open_text_replaces_its_file() {
    let mut client = shelf();
    client.open("night.wet", "wetside 1\nuse \"bench.wet\"\n");
    let changes = client.renamed("bench.wet", (2, 12), "second-brew");
    assert_eq!(changes.as_object().unwrap().len(), 2, "{changes}");
    assert_eq!(changes[client.uri("night.wet")], Value::Null);
    client.ends_well();
}

#[test]
fn a_file_that_changed_on_the_disk_is_read_again() {
    let mut client = shelf();
    client.renamed("bench.wet", (2, 12), "second-brew");
    client.file("night.wet", NIGHT.replace("wetside 1\n", "wetside 1\n\n"));
    let changes = client.renamed("bench.wet", (2, 12), "second-brew");
    assert_eq!(changes[client.uri("night.wet")], edit(range(15, 18, 28)));
    client.ends_well();
}

#[test]
fn a_name_that_is_taken_in_a_file_that_is_not_open_is_refused() {
    let mut client = shelf();
    client.file("night.wet", format!("{NIGHT}\nsolution second-brew {{\n    role      developer\n}}\n"));
    let words = client.rename_refused("bench.wet", (2, 12), "second-brew");
    assert_eq!(words, "night.wet has a solution of the name second-brew already");
    // Under a prefix it means only one thing.
    client.file("night.wet", NIGHT);
    client.file("far/far.wet", format!("{FAR}\nsolution second-brew {{\n    role      developer\n}}\n"));
    assert_eq!(client.renamed("bench.wet", (2, 12), "second-brew").as_object().unwrap().len(), 3);
    client.ends_well();
}

#[test]
fn the_same_name_in_an_unrelated_file_is_not_renamed() {
    let mut client = shelf();
    client.file("own.wet", BENCH);
    let changes = client.renamed("bench.wet", (2, 12), "second-brew");
    assert_eq!(changes[client.uri("own.wet")], Value::Null);
    assert_eq!(changes.as_object().unwrap().len(), 3);
    client.ends_well();
}

#[test]
fn files_that_are_not_text_are_skipped() {
    let mut client = shelf();
    let broken = [NIGHT.as_bytes(), b"# \xff\n"].concat();
    client.file("night.wet", broken);
    client.file("far/wide.wet", "\0".repeat((1 << 20) + 1));
    let changes = client.renamed("bench.wet", (2, 12), "second-brew");
    assert_eq!(changes.as_object().unwrap().len(), 2, "{changes}");
    assert_eq!(client.references("bench.wet", (2, 12)).as_array().unwrap().len(), 2);
    client.ends_well();
}

#[test]
fn files_above_the_root_are_not_read() {
    // Without a `.git` the root is the folder of the file.
    let mut client = Client::begun(&["utf-8"]);
    client.file("below/bench.wet", BENCH);
    client.file("below/night.wet", NIGHT);
    client.file(
        "above.wet",
        "wetside 1\nuse \"below/bench.wet\"\nfilm f {\n    clears    60 s in borax-brew at 20 C\n}\n",
    );
    client.open("below/bench.wet", BENCH);
    let changes = client.renamed("below/bench.wet", (2, 12), "second-brew");
    assert_eq!(changes.as_object().unwrap().len(), 2, "{changes}");
    assert_eq!(changes[client.uri("above.wet")], Value::Null);
    client.ends_well();
}

#[cfg(unix)]
#[test]
fn a_link_out_of_the_root_is_not_followed() {
    let mut client = Client::begun(&["utf-8"]);
    client.file("shelf/.git/HEAD", "");
    client.file("shelf/bench.wet", BENCH);
    client.file("outside.wet", "wetside 1\nuse \"shelf/bench.wet\"\n");
    client.file("night.wet", NIGHT);
    std::os::unix::fs::symlink(client.path("night.wet"), client.path("shelf/night.wet")).unwrap();
    client.open("shelf/bench.wet", BENCH);
    let changes = client.renamed("shelf/bench.wet", (2, 12), "second-brew");
    assert_eq!(changes, json!({ client.uri("shelf/bench.wet"): edit(range(2, 9, 19)) }));
    client.ends_well();
}

#[test]
fn a_rename_among_too_many_files_is_refused() {
    let mut client = shelf();
    let empty = client.path("far/empty.wet");
    std::fs::write(&empty, "").unwrap();
    // As many as the limit of a search, so one more with the first. A link is made in less time than a file, but some
    // systems limit the links to one file.
    for number in 0..20_000 {
        let path = client.path(&format!("far/{number}.wet"));
        std::fs::hard_link(&empty, &path).or_else(|_| std::fs::write(&path, "")).unwrap();
    }
    let words = client.rename_refused("bench.wet", (2, 12), "second-brew");
    assert!(words.starts_with("there are too many files below the root"), "{words}");
    assert_eq!(client.references("bench.wet", (2, 12)).as_array().unwrap().len(), 1);
    client.ends_well();
}

/// A file of another root is read from here but not written.
#[test]
fn a_rename_does_not_reach_into_another_root() {
    let mine = "wetside 1
use \"collections/club/bench.wet\" as lab
recipe far {
    develop {
        in        lab/borax-brew 1+3
    }
}
";
    let mut client = Client::begun(&["utf-8"]);
    client.file(".git/HEAD", "");
    client.file("collections/club/bench.wet", BENCH);
    client.file("collections/club/night.wet", NIGHT);
    client.open("mine.wet", mine);
    let words = client.rename_refused("mine.wet", (4, 25), "second-brew");
    assert!(words.contains("collections/club/bench.wet belongs to another root"), "{words}");
    let there = client.at("textDocument/definition", "mine.wet", (4, 25));
    assert_eq!(there["uri"], client.uri("collections/club/bench.wet"), "{there}");
    // Nor from there, while a document of this root mentions it.
    client.open("collections/club/bench.wet", BENCH);
    let words = client.rename_refused("collections/club/bench.wet", (2, 12), "second-brew");
    assert!(words.contains("mine.wet belongs to another root"), "{words}");
    client.ends_well();
}
