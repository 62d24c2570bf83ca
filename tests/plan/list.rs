//! A list of rolls from a spreadsheet: read whatever its columns' order and its separator, its faults told by
//! line.

use super::{json, loads, with};
use crate::program::Run;

fn run(list: &str) -> Run {
    with("roll \"old\" 120 of marsh-100").file("labels.csv", list)
}

#[test]
fn a_list_is_planned_as_a_backlog_of_the_same_rolls() {
    let comma = "label,film,format,date,index\nA1,marsh-100,120,2026-10-02,100\nA2,Weir-400,120,,\n";
    let plan = json(&run(comma).args(["plan", "--from", "labels.csv", "--as", "json"]));
    assert_eq!(loads(&plan), [["A1"], ["A2"]]);
    assert_eq!(plan["loads"][0]["rolls"][0]["shot"], "2026-10-02");
    assert_eq!(plan["loads"][1]["rolls"][0]["index"], 400);
    let others = [
        "\u{feff}Format;Film;Label;Index;Date\r\n120;marsh-100;A1;100;2026-10-02\r\n\r\n120;weir-400;A2;;\r\n",
        "film\tlabel\tformat\n\"marsh-100\"\t\"A1\"\t120\nweir-400\tA2\t120\n",
    ];
    for list in others {
        let other = json(&run(list).args(["plan", "--from", "labels.csv", "--as", "json"]));
        assert_eq!(loads(&other), loads(&plan), "{list}");
    }
}

/// A list with a fault of each kind, in a call that plans it.
pub(super) fn faulty() -> Run {
    let list = "label,film,format,date,index\nA1,marsh-10,120,2026-10-02,100\n,marsh-100,120,,\nA2,marsh-100,127,,\nA3,marsh-100,120,2.10.2026,\nA4,marsh-100,120,,four\nA2,marsh-100,120,,\n";
    run(list).args(["plan", "--from", "labels.csv"])
}

#[test]
fn a_list_that_is_none_is_told() {
    for (list, told) in [
        ("", "error[list-empty]"),
        ("label,film,format\n", "error[list-empty]"),
        ("name,film,format\nA,marsh-100,120\n", "error[list-column]: the head has no label"),
    ] {
        let report = run(list).args(["plan", "--from", "labels.csv"]).fails(1).1;
        assert!(report.contains(told), "{list:?}: {report}");
    }
    let bytes = with("roll \"old\" 120 of marsh-100").file("labels.csv", [0xff, 0xfe, 0x00]);
    assert!(bytes.args(["plan", "--from", "labels.csv"]).fails(2).1.contains("it is UTF-16"));
    assert!(run("").args(["plan", "--from", "gone.csv"]).fails(2).1.contains("gone.csv cannot be read"));
}

#[test]
fn a_list_of_too_many_rolls_is_refused() {
    let rows: String = (0..=10_000).map(|at| format!("R{at},marsh-100,120\n")).collect();
    let report = run(&format!("label,film,format\n{rows}")).args(["plan", "--from", "labels.csv"]).fails(1).1;
    assert!(report.contains("error[list-too-long]"), "{report}");
}

/// What `--as wet` writes is a backlog that checks, and that is planned as the list is.
#[test]
fn a_list_becomes_a_backlog_of_the_language() {
    let list = "label,film,format,date,index\nA1,marsh-100,120,2026-10-02,100\nA2,weir-400,135,,\n";
    let run = run(list).args(["plan", "--from", "labels.csv", "--as", "wet"]);
    let block = run.succeeds();
    let text = format!("wetside 1\n\nuse \"bench.wet\"\n\n{block}");
    let run = run.file("labels.wet", &text).again().args(["check", "labels.wet"]);
    run.succeeds();
    assert_eq!(run.again().args(["tidy", "-"]).stdin(text.clone()).succeeds(), text);
}
