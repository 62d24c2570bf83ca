//! The table, read back by another reader.

use wetside::compile::Schedule;
use wetside::emit;

use super::{TEXT, schedule};

/// The rows below the head, and below the row that points at the safety block.
fn rows(schedule: &Schedule) -> Vec<Vec<String>> {
    let table = emit::csv(schedule);
    let mut reader = csv::Reader::from_reader(table.as_bytes());
    let head: Vec<String> = reader.headers().unwrap().iter().map(str::to_owned).collect();
    let own = ["step", "action", "at", "at_ms", "length", "length_ms", "wall", "bath", "what"];
    assert_eq!(head, [own.as_slice(), &["leg", "earliest_ms", "latest_ms"]].concat());
    let mut rows = reader.records().map(|row| row.unwrap().iter().map(str::to_owned).collect());
    let first: Vec<String> = rows.next().unwrap();
    assert_eq!(first[1..2], ["safety"]);
    assert_eq!(first[8], "read the safety block of the card first");
    rows.collect()
}

#[test]
fn every_action_has_its_row() {
    let found = rows(&schedule(TEXT));
    let found: Vec<[&str; 6]> =
        found.iter().map(|row| [0, 1, 2, 3, 4, 5].map(|column| row[column].as_str())).collect();
    assert_eq!(
        found,
        [
            ["develop", "pour", "0:00", "0", "0:10", "10000"],
            ["develop", "agitate", "0:10", "10000", "0:10", "10000"],
            ["develop", "agitate", "0:30", "30000", "0:05", "5000"],
            ["develop", "agitate", "1:00", "60000", "0:05", "5000"],
            ["develop", "drain", "1:25", "85000", "0:05", "5000"],
            ["wash", "fill", "1:30", "90000", "0:10", "10000"],
            ["wash", "dump", "2:40", "160000", "0:05", "5000"],
            ["wash", "fill", "2:45", "165000", "0:10", "10000"],
            ["wash", "dump", "3:55", "235000", "0:05", "5000"],
            ["dry", "dry", "4:00", "240000", "2:00:00", "7200000"],
        ]
    );
}

#[test]
fn a_row_has_action_bath_and_wall_clock() {
    let mut schedule = schedule(TEXT);
    assert_eq!(
        rows(&schedule)[0][6..9],
        ["", "Soup of the day stock", "pour 1000 ml of Soup of the day stock"]
    );
    schedule.conditions.start = Some(23 * 3600 + 59 * 60);
    let found = rows(&schedule);
    assert_eq!(found[0][6], "23:59:00");
    assert_eq!(found[5][6], "00:00:30 next day");
}

#[test]
fn a_line_ends_with_crlf() {
    let table = emit::csv(&schedule(TEXT));
    // A head, the row about safety, and ten actions.
    assert_eq!(table.matches("\r\n").count(), 12);
    assert!(table.ends_with("\r\n"));
    assert_eq!(table.replace("\r\n", "").find(['\r', '\n']), None);
}

/// A title, and its cell.
const INJECTIONS: [(&str, &str); 6] = [
    ("=1+1", "'=1+1 stock"),
    ("+1", "'+1 stock"),
    ("-1", "'-1 stock"),
    ("@SUM(1,2)", "'@SUM(1,2) stock"),
    ("\t=1", "' =1 stock"),
    ("\r=1", "\u{fffd}=1 stock"),
];

#[test]
fn no_title_becomes_a_formula() {
    for (title, cell) in INJECTIONS {
        let mut schedule = schedule(TEXT);
        schedule.steps[0].bath.as_mut().unwrap().title = title.to_owned();
        let found = rows(&schedule);
        assert_eq!(found[0][7], cell, "{title:?}");
        assert_eq!(found.len(), 10, "{title:?}");
        for cell in found.iter().flatten() {
            assert!(!cell.starts_with(['=', '+', '-', '@', '\t', '\r']), "{title:?}: {cell:?}");
        }
    }
}

#[test]
fn quotes_commas_and_new_lines_stay_in_their_cell() {
    let mut schedule = schedule(TEXT);
    schedule.steps[0].bath.as_mut().unwrap().title = "soup, \"thick\"\nand more".to_owned();
    let found = rows(&schedule);
    assert_eq!(found[0][7], "soup, \"thick\" and more stock");
    assert_eq!(found.len(), 10);
}

/// A title for a spreadsheet that begins a cell at each semicolon, and its cell.
const SPLIT: [(&str, &str); 5] = [
    ("soup;=1+1", "soup;'=1+1 stock"),
    ("soup; @SUM(1)", "soup;' @SUM(1) stock"),
    ("soup;\"=1+1\"", "soup;'\"=1+1\" stock"),
    ("＝1+1", "'＝1+1 stock"),
    ("soup; thick", "soup; thick stock"),
];

#[test]
fn no_title_becomes_a_formula_where_cells_are_split_at_semicolons() {
    for (title, cell) in SPLIT {
        let mut schedule = schedule(TEXT);
        schedule.steps[0].bath.as_mut().unwrap().title = title.to_owned();
        let found = rows(&schedule);
        assert_eq!(found[0][7], cell, "{title:?}");
        assert!(
            emit::csv(&schedule).contains(&format!("\"{}\"", cell.replace('"', "\"\"")))
                || !cell.contains(';')
        );
        for delimiter in [b',', b';', b'\t'] {
            let table = emit::csv(&schedule);
            let mut reader =
                csv::ReaderBuilder::new().delimiter(delimiter).flexible(true).from_reader(table.as_bytes());
            for cell in
                reader.records().flat_map(|row| row.unwrap().iter().map(str::to_owned).collect::<Vec<_>>())
            {
                let begins = cell.trim_start_matches(['"', ' ']);
                assert!(!begins.starts_with(['=', '+', '-', '@', '＝']), "{title:?}: {cell:?}");
            }
        }
    }
}
