//! Lists of rolls as spreadsheet programs and libraries write them. Each file in `lists` is named after the library and
//! version that wrote it; what it holds is worked by hand.

use serde_json::Value;

use super::{BENCH, loads, with};
use crate::program::Run;

/// The bench, and a recipe for the film of ISO 400 exposed at 800.
fn bench() -> String {
    let push = BENCH.split_once("recipe weir from").unwrap().1.replacen(
        "film      weir-400",
        "film      weir-400\n    index     800",
        1,
    );
    format!("{BENCH}\nrecipe weir-800 from{}", push.replace("13:00", "18:00"))
}

fn list(name: &str) -> Run {
    let path = format!("{}/tests/plan/lists/{name}", env!("CARGO_MANIFEST_DIR"));
    let run = with("roll \"old\" 120 of marsh-100").file("bench.wet", bench());
    run.file("autumn.csv", std::fs::read(path).unwrap())
}

fn of_rows(rows: &str) -> Run {
    with("roll \"old\" 120 of marsh-100").file("bench.wet", bench()).file("autumn.csv", rows)
}

/// The plan of a list as JSON, and the messages about the list.
fn planned(run: Run, more: &[&str], status: i32) -> (Value, String) {
    let run = more
        .iter()
        .fold(run.args(["plan", "--from", "autumn.csv", "--as", "json"]), |run, arg| run.arg(*arg));
    let (ended, out, told) = run.ends();
    assert_eq!(ended, status, "{told}");
    (serde_json::from_str(&out).unwrap_or_else(|_| panic!("{told}")), told)
}

/// Each planned roll: its label, format, exposure index and date.
fn rolls(plan: &Value) -> Vec<[String; 4]> {
    let loads = plan["loads"].as_array().unwrap().iter();
    let rolls = loads.flat_map(|load| load["rolls"].as_array().unwrap());
    let text = |value: &Value| value.as_str().map_or_else(|| value.to_string(), str::to_owned);
    rolls.map(|roll| ["label", "format", "index", "shot"].map(|key| text(&roll[key]))).collect()
}

/// Three rolls, the third exposed one stop above its film's 400. The days are those that the lists were written with:
/// 46297 days after the 30th of December 1899 is the second of October 2026 (day 39448 is the first of January 2008).
const THREE: [[&str; 4]; 3] = [
    ["A1", "120", "100", "2026-10-02"],
    ["A2", "120", "100", "2026-10-13"],
    ["A3", "135-24", "800", "2026-10-14"],
];

#[test]
fn lists_of_several_libraries_give_the_same_plan() {
    for (name, status) in [
        ("python-csv-3.11.7.csv", 1),
        ("openpyxl-3.1.5.csv", 0),
        ("xlsx-0.18.5-days.csv", 0),
        ("xlsx-0.18.5-dates.csv", 0),
        ("xlsx-0.18.5-utf-16.txt", 0),
        ("papaparse-5.7.1.csv", 0),
    ] {
        let (plan, told) = planned(list(name), &[], status);
        assert_eq!(rolls(&plan), THREE.map(|roll| roll.map(str::to_owned)), "{name}: {told}");
        assert_eq!(told.matches("error[").count(), usize::from(status == 1), "{name}: {told}");
        assert!(!told.contains("list-date"), "{name}: {told}");
    }
}

/// The messages about a list with a row above the names of the columns, two columns that are not read, a missing index,
/// and two rolls of a film without a recipe.
pub(super) fn flawed() -> String {
    planned(list("python-csv-3.11.7.csv"), &[], 1).1
}

#[test]
fn rolls_that_cannot_be_read_are_left_out_with_the_reason() {
    let (plan, _) = planned(list("python-csv-3.11.7.csv"), &[], 1);
    let left = plan["left_out"].as_array().unwrap();
    assert_eq!(left.len(), 1);
    assert_eq!(left[0]["reasons"][0]["name"], "list-film");
    assert_eq!((&left[0]["rolls"][0]["label"], &left[0]["rolls"][1]["label"]), (&"A4".into(), &"A5".into()));
    assert_eq!(
        (&left[0]["rolls"][0]["film"], &left[0]["rolls"][0]["format"]),
        (&"Heron 50".into(), &"120".into())
    );
}

/// Numbers of days are said once, with what the first of them means.
#[test]
fn numbers_of_days_are_reported_once() {
    let (_, told) = planned(list("xlsx-0.18.5-days.csv"), &[], 0);
    assert_eq!(told.matches("numbers of days are taken for dates").count(), 1, "{told}");
    assert!(told.contains("46297 is 2026-10-02"), "{told}");
}

#[test]
fn the_order_of_day_and_month_is_stated_once_or_clear_from_the_column() {
    let shot = |rows: &str, more: &[&str]| {
        let (plan, told) = planned(of_rows(rows), more, 0);
        (rolls(&plan).into_iter().map(|[.., shot]| shot).collect::<Vec<_>>(), told)
    };
    let head = "label,film,format,date\n";
    let unclear =
        format!("{head}A1,marsh-100,120,2.10.2026\nA2,marsh-100,120,5/6/26\nA3,marsh-100,120,3.3.2026\n");
    let (days, told) = shot(&unclear, &[]);
    assert_eq!(days, ["null", "null", "2026-03-03"]);
    assert_eq!(told.matches("warning[list-date]").count(), 1, "{told}");
    assert!(told.contains("also in line 3") && told.contains("--dates day.month.year"), "{told}");
    let (days, told) = shot(&unclear, &["--dates", "day.month.year"]);
    assert_eq!(days, ["2026-10-02", "2026-06-05", "2026-03-03"]);
    assert!(!told.contains("list-date"), "{told}");
    assert_eq!(shot(&unclear, &["--dates", "month.day.year"]).0, ["2026-02-10", "2026-05-06", "2026-03-03"]);
    let stated = unclear.replace("date", "Date (dd.mm.yyyy)");
    assert_eq!(shot(&stated, &[]).0, ["2026-10-02", "2026-06-05", "2026-03-03"]);
    // Another row shows the order; years of two digits are of 1969 to 2068.
    assert_eq!(
        shot(&format!("{head}A1,marsh-100,120,2.10.26\nA2,marsh-100,120,13.10.98\n"), &[]).0,
        ["2026-10-02", "1998-10-13"]
    );
    // One column with both orders shows neither.
    let (days, told) = shot(
        &format!("{head}A1,marsh-100,120,2/10/26\nA2,marsh-100,120,13/10/26\nA3,marsh-100,120,10/13/26\n"),
        &[],
    );
    assert_eq!(days, ["null", "2026-10-13", "2026-10-13"]);
    assert_eq!(told.matches("list-date").count(), 1, "{told}");
    let (days, told) =
        shot(&format!("{head}A1,marsh-100,120,2026-10-01T22:00:00.000Z\nA2,marsh-100,120,spring\n"), &[]);
    assert_eq!(days, ["null", "null"]);
    assert!(told.contains("a time in UTC") && told.contains("'spring' is not a date"), "{told}");
}

/// A third of a stop is a number on the scale of ISO: 400, 500, 640, 800 (ISO 5800).
#[test]
fn a_sign_makes_an_index_a_push() {
    for (cell, index) in [
        ("800", 800),
        ("+1", 800),
        ("N+1", 800),
        ("+1/3", 500),
        ("\"+0,7\"", 640),
        ("-1", 200),
        ("\u{2212}1", 200),
        ("EI 800", 800),
        ("800/30°", 800),
        ("800.0", 800),
        ("+ 2 stops", 1600),
        ("+5", 12_800),
    ] {
        let table = planned(
            of_rows(&format!("label,film,format,index\nA1,weir-400,120,{cell}\nA2,marsh-100,120,\n")),
            &[],
            i32::from(index != 800),
        );
        let left = table.0["left_out"][0]["reasons"][0]["message"].as_str().unwrap_or_default();
        let at = rolls(&table.0).into_iter().find(|roll| roll[0] == "A1").map(|roll| roll[2].clone());
        assert!(
            at == Some(index.to_string()) || left.ends_with(&format!("weir-400 at {index}")),
            "{cell}: {}",
            table.1
        );
    }
    // 1,600 may be 1.6 or 1600, and 1:2 is nothing.
    for cell in ["\"1,600\"", "1.000", "four", "+1/2", "+x"] {
        let rows = format!("label,film,format,index\nA1,weir-400,120,{cell}\nA2,marsh-100,120,\n");
        assert!(planned(of_rows(&rows), &[], 1).1.contains("error[list-index]"), "{cell}");
    }
    let both =
        "label,film,format,index,push\nA1,weir-400,120,800,1\nA2,weir-400,120,400,+1\nA3,weir-400,120,,1\n";
    let (plan, told) = planned(of_rows(both), &[], 1);
    assert_eq!(loads(&plan), [["A1", "A3"]]);
    assert!(told.contains("the index is 400, but the push makes it 800"), "{told}");
}

#[test]
fn rows_that_are_listed_twice_count_once() {
    let rows = "label,film,format\nA1,marsh-100,120\nA1,marsh-100,120\nA2,marsh-100,120\nA2,weir-400,120\nlabel,film,format\nA3,marsh-100,135\n";
    let (plan, told) = planned(of_rows(rows), &[], 1);
    assert_eq!(loads(&plan), [["A1", "A3"]]);
    assert!(told.contains("listed more than once, and counted once: A1"), "{told}");
    assert!(told.contains("different rolls have the label 'A2'"), "{told}");
    assert_eq!(told.matches("list-label").count(), 2, "{told}");
}

/// The plan as CSV, with rolls that are developed, planned and left out, gives the same plan again.
#[test]
fn a_plan_as_csv_can_be_read_back() {
    let rows = "label,film,format,date,index,done\nA1,marsh-100,120,2026-10-02,,2026-11-01\n'=A2,marsh-100,120,2026-10-03,100,\nA3,no-film,120,,,\nA4,weir-400,135,,+1,\n";
    let run = of_rows(rows).args(["plan", "--from", "autumn.csv", "--as", "csv"]);
    let (table, _) = run.fails(1);
    let (again, told) = of_rows(&table).args(["plan", "--from", "autumn.csv", "--as", "csv"]).fails(1);
    assert_eq!(again, table);
    assert!(!told.contains("list-ignored") && table.contains("'=A2"), "{told}\n{table}");
    let (plan, _) = planned(of_rows(&table), &[], 1);
    assert_eq!(loads(&plan), [vec!["=A2"], vec!["A4"]]);
    assert_eq!(plan["done"][0]["label"], "A1");
}

/// A session that names no backlog has developed A1. The roll called A2 that a session of spring developed is another
/// one: it was developed before this A2 was shot, and A3 was of another film.
#[test]
fn the_journal_counts_for_a_list() {
    let session = |name: &str, date: &str, recipe: &str, label: &str| {
        format!(
            "session {name} {{\n    date {date}\n    recipe {recipe}, fingerprint \"46ac83d1\"\n    slot 1 \"{label}\" 120\n}}\n"
        )
    };
    let journal = format!(
        "wetside 1\n\n{}{}{}",
        session("one", "2026-11-03", "marsh", "A1"),
        session("two", "2026-04-03", "marsh", "A2"),
        session("three", "2026-11-03", "weir", "A3"),
    );
    let rows = "label,film,format,date\nA1,marsh-100,120,2026-10-02\nA2,marsh-100,120,2026-10-02\nA3,marsh-100,120,2026-10-02\n";
    let (plan, _) = planned(of_rows(rows).file("journal.wet", journal), &[], 0);
    assert_eq!(loads(&plan), [["A2", "A3"]]);
    assert_eq!(plan["done"][0]["label"], "A1");
}

#[test]
fn a_workbook_is_refused_by_name() {
    let book = with("roll \"old\" 120 of marsh-100").file("autumn.csv", b"PK\x03\x04rest");
    let told = book.args(["plan", "--from", "autumn.csv"]).fails(2).1;
    assert!(told.contains("it is a workbook; save its sheet as CSV"), "{told}");
    let broken = with("roll \"old\" 120 of marsh-100").file("autumn.csv", [0xff, 0xfe, 0x00]);
    assert!(broken.args(["plan", "--from", "autumn.csv"]).fails(2).1.contains("it is not valid UTF-16"));
}

/// Some spreadsheets name the separator in a first line.
#[test]
fn a_list_may_state_its_separator() {
    for separator in [";", "|"] {
        let rows = format!(
            "sep={separator}\r\nlabel;film;format\r\nA1;marsh-100;4 x 5 in\r\nA2;marsh-100;120.0\r\n"
        );
        let tray = bench().replace(
            "reels     120 x 5, 500 ml each",
            "reels     120 x 5, 500 ml each\n    reels     4x5in x 4, 300 ml each",
        );
        let run = of_rows(&rows.replace(';', separator)).file("bench.wet", tray);
        assert_eq!(loads(&planned(run, &[], 0).0), [["A1", "A2"]]);
    }
}
