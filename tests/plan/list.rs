//! A list of rolls from a spreadsheet, in any order of columns and with any separator. Errors name the line.

use super::{json, loads, with};
use crate::program::Run;

fn run(list: &str) -> Run {
    with("roll \"old\" 120 of marsh-100").file("labels.csv", list)
}

#[test]
fn a_list_is_planned_as_a_backlog_of_the_same_rolls() {
    let comma = "label,film,format,date,index\nA1,marsh-100,120,2026-10-02,100\nA2,Weir-400,120,,400\n";
    let plan = json(&run(comma).args(["plan", "--from", "labels.csv", "--as", "json"]));
    assert_eq!(loads(&plan), [["A1"], ["A2"]]);
    assert_eq!(plan["loads"][0]["rolls"][0]["shot"], "2026-10-02");
    assert_eq!(plan["loads"][1]["rolls"][0]["index"], 400);
    let others = [
        "\u{feff}Format;Film;Label;Index;Date\r\n120;marsh-100;A1;100;2026-10-02\r\n\r\n120;weir-400;A2;400;\r\n",
        "film\tlabel\tformat\tEI\n\"marsh-100\"\t\"A1\"\t120\t100\nweir-400\tA2\t120\t400\n",
    ];
    for list in others {
        let other = json(&run(list).args(["plan", "--from", "labels.csv", "--as", "json"]));
        assert_eq!(loads(&other), loads(&plan), "{list}");
    }
}

/// A list with an error of each kind, in a call that plans it.
pub(super) fn faulty() -> Run {
    let list = "label,film,format,date,index\nA1,marsh-10,120,2026-10-02,100\n,marsh-100,120,,\nA2,marsh-100,127,,\nA3,marsh-100,120,2.10.2026,\nA4,marsh-100,120,,four\nA2,reed-100,120,,\n";
    run(list).args(["plan", "--from", "labels.csv"])
}

#[test]
fn an_invalid_list_is_reported() {
    for (list, told) in [
        ("", "error[list-empty]"),
        ("label,film,format\n", "error[list-empty]"),
        ("name,film,format\nA,marsh-100,120\n", "error[list-column]: no row names the column 'label'"),
    ] {
        let report = run(list).args(["plan", "--from", "labels.csv"]).fails(1).1;
        assert!(report.contains(told), "{list:?}: {report}");
    }
    let bytes = with("roll \"old\" 120 of marsh-100").file("labels.csv", [0xff, 0xfe, 0x00]);
    assert!(bytes.args(["plan", "--from", "labels.csv"]).fails(2).1.contains("it is not valid UTF-16"));
    assert!(run("").args(["plan", "--from", "gone.csv"]).fails(2).1.contains("gone.csv cannot be read"));
}

/// An empty cell is reported as empty, and a misspelt film gets the nearest name.
#[test]
fn an_empty_cell_is_reported_and_a_near_film_is_named() {
    let told = |row: &str| {
        run(&format!("label,film,format\n{row}\n")).args(["plan", "--from", "labels.csv"]).fails(1).1
    };
    assert!(told("A,marsh-100").contains("this roll's format is empty"));
    assert!(told("A,,120").contains("this roll's film is empty"));
    assert!(told("A,Marsh-10,120").contains(" help: write marsh-100\n"));
    let titled = super::BENCH.replace("film marsh-100 {", "film marsh-100 \"The Marsh\" {");
    let list = run("label,film,format\nA,The Mash,120\n").file("bench.wet", titled);
    assert!(list.args(["plan", "--from", "labels.csv"]).fails(1).1.contains(" help: write marsh-100\n"));
}

#[test]
fn a_list_of_too_many_rolls_is_refused() {
    let rows: String = (0..=10_000).map(|at| format!("R{at},marsh-100,120\n")).collect();
    let report = run(&format!("label,film,format\n{rows}")).args(["plan", "--from", "labels.csv"]).fails(1).1;
    assert!(report.contains("error[list-too-long]"), "{report}");
}

/// `--as wet` writes a file that passes the check where it is saved, is tidy, and gives the same plan.
#[test]
fn a_list_becomes_a_file_of_the_language() {
    let list = "label,film,format,date,index\nA1,marsh-100,120,2026-10-02,100\nA2,weir-400,135,,400\n";
    let run = run(list).args(["plan", "--from", "labels.csv", "--as", "wet"]);
    let text = run.succeeds();
    assert!(text.starts_with("wetside 1\n\nuse \"bench.wet\"\n\nbacklog labels {\n"), "{text}");
    let run = run.file("labels.wet", &text).again().args(["check", "labels.wet"]);
    run.succeeds();
    assert_eq!(run.again().args(["tidy", "-"]).stdin(text.clone()).succeeds(), text);
    let run = with("roll \"old\" 120 of marsh-100").file("labels.wet", &text);
    let planned = json(&run.args(["plan", "labels.wet", "--as", "json"]));
    assert_eq!(loads(&planned), [["A1"], ["A2"]]);
}

/// In another folder the path goes up from there, at most to the root, which `.git` marks.
#[test]
fn such_a_file_has_paths_from_its_own_folder() {
    let list = "label,film,format,index\nA1,marsh-100,120,100\n";
    let run =
        || run(list).file("lists/old.txt", "").args(["plan", "--from", "labels.csv", "-o", "lists/new.wet"]);
    let below = run().file(".git/HEAD", "");
    below.succeeds();
    let text = std::fs::read_to_string(below.folder().join("lists/new.wet")).unwrap();
    assert!(text.contains("use \"../bench.wet\"\n"), "{text}");
    below.again().args(["check", "lists/new.wet"]).succeeds();
    // Without a root above, a file in a folder can bring in nothing from beside that.
    let told = run().fails(2).1;
    assert!(
        told.contains("a file at lists/new.wet cannot use the films")
            && told.contains("in the folder of bench.wet"),
        "{told}"
    );
}

/// Two files have a film of one name, and the list gives the films by their titles.
#[test]
fn such_a_file_keeps_films_of_one_name_apart() {
    let titled = super::BENCH.replace("film marsh-100 {", "film marsh-100 \"The Marsh\" {");
    let other = "wetside 1\nuse \"bench.wet\" as bench\nfilm marsh-100 \"Other marsh\" {\n    speed ISO 100\n}\nrecipe other from bench/marsh {\n    film marsh-100\n    develop {\n        time 11:00\n    }\n    fix {\n        time 3:00\n    }\n}\n";
    let list = "label,film,format,index\nA,The Marsh,120,100\nB,Other marsh,120,100\n";
    let run = run(list).file("bench.wet", titled).file("other.wet", other);
    run.again().args(["plan", "--from", "labels.csv", "-o", "copy.wet"]).succeeds();
    let text = std::fs::read_to_string(run.folder().join("copy.wet")).unwrap();
    assert!(text.contains(" as file-2\n") && text.contains("of file-2/marsh-100 index 100\n"), "{text}");
    run.again().args(["check", "copy.wet"]).succeeds();
    let after = json(&run.again().args(["plan", "copy.wet", "--as", "json"]));
    assert_eq!(loads(&after), [["A"], ["B"]]);
}
