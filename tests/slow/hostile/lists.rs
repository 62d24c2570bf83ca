//! Lists for `plan --from` that are invalid, or hostile to a reader of the plan.

use super::{CPU_SECONDS_MAX, Call, Ends, Input, Ran, SOUND, each_ends_in_order};

const HEAD: &str = "label,film,format,date,index\n";

/// The commands for a list. Each writes at most one file, which is checked separately.
const PLANNED: [Call; 4] = [
    Call {
        args: &["plan", "--from", "list.csv", "--at", "20C"],
        accepted: &[0],
        refused: &[1, 2],
        writes: &[],
    },
    Call {
        args: &["plan", "--from", "list.csv", "--at", "20C", "--as", "json"],
        accepted: &[0],
        refused: &[1, 2],
        writes: &[],
    },
    Call {
        args: &["plan", "--from", "list.csv", "--at", "20C", "--as", "wet"],
        accepted: &[0],
        refused: &[1, 2],
        writes: &[],
    },
    Call {
        args: &["plan", "--from", "list.csv", "--at", "20C", "-o", "list.csv", "--as", "csv"],
        accepted: &[2],
        refused: &[1, 2],
        writes: &[],
    },
];

fn input(name: &str, ends: Ends, list: impl Into<Vec<u8>>) -> Input {
    let input = Input::new(name, ends, SOUND).in_a_darkroom().file("list.csv", list);
    // A refused list is not formatted.
    input.only(PLANNED.iter().take(if ends == Ends::Refused { 1 } else { PLANNED.len() }))
}

fn rows(count: usize, row: impl Fn(usize) -> String) -> String {
    HEAD.to_owned() + &(0..count).map(row).collect::<String>()
}

/// A list with this one roll.
fn one(row: &str) -> String {
    format!("{HEAD}{row}\n")
}

fn utf16(text: &str, bytes: fn(u16) -> [u8; 2]) -> Vec<u8> {
    std::iter::once(0xfeff).chain(text.encode_utf16()).flat_map(bytes).collect()
}

#[test]
fn a_list_that_is_not_a_text_table_is_refused() {
    let sound = one("A1,plain-film,120,,");
    let halved = utf16(&sound, u16::to_le_bytes).into_iter().skip(1).collect::<Vec<_>>();
    let lone = [&[0xff, 0xfe, 0x00, 0xd8][..], b"\n\0"].concat();
    let binary: Vec<u8> = (0..=255).cycle().take(5_000).collect();
    each_ends_in_order(&[
        input("any bytes", Ends::Refused, binary),
        input("1 MB of noughts", Ends::Refused, vec![0; 1_000_000]),
        input("UTF-16 without its first byte", Ends::Refused, halved),
        input("half of a pair in UTF-16", Ends::Refused, lone),
        input("a workbook", Ends::Refused, b"PK\x03\x04 and so on"),
        input("of another encoding", Ends::Refused, b"label,film,format\nMar\xe9e,plain-film,120\n"),
        input("nothing", Ends::Refused, ""),
        input("a head alone", Ends::Refused, HEAD),
        input("over 1 MiB", Ends::Refused, rows(60_000, |at| format!("A{at},plain-film,120,,\n"))),
        input("bars for commas", Ends::Refused, sound.replace(',', "|")),
        input("a column twice", Ends::Refused, "label,label,film,format\nA1,B1,plain-film,120\n"),
        input("a quote that is not closed", Ends::Refused, one("\"A1,plain-film,120,,\nA2,plain-film,120,,")),
        input("900,000 quotes", Ends::Refused, one(&"\"".repeat(900_001))),
        input("1,000,000 commas", Ends::Refused, ",".repeat(1_000_000)),
        input("1,000,000 empty lines", Ends::Refused, HEAD.to_owned() + &"\n".repeat(1_000_000)),
        input("a head of 900,000 letters", Ends::Refused, "x".repeat(900_000)),
    ]);
}

#[test]
fn an_impossible_roll_is_refused() {
    let refused = [
        ("a nought in a label", "A\0 1,plain-film,120,,"),
        ("escapes everywhere", "\u{1b}[2JA1,plain\u{1b}[2J-film,1\u{1b}]0;x\u{7},20\u{202e}2026,\u{202e}"),
        ("a label that turns", "\u{202e}1A,plain-film,120,,"),
        ("a label without width", "\u{200b},plain-film,120,,"),
        ("a label of a space that does not break", "\u{a0},plain-film,120,,"),
        ("markup for a film", "A1,<script>,<b>,=1+1,@x"),
        ("an index of 20 figures", "A1,plain-film,120,,99999999999999999999"),
        ("an index below nought", "A1,plain-film,120,,-1"),
        ("an index of nought", "A1,plain-film,120,,0"),
        ("a row too short", "A1"),
    ];
    let mut inputs: Vec<Input> =
        refused.iter().map(|(name, row)| input(name, Ends::Refused, one(row))).collect();
    let long = "x".repeat(900_000);
    inputs.extend([
        input("a label of 900,000 letters", Ends::Refused, one(&format!("{long},plain-film,120,,"))),
        input("a film of 900,000 letters", Ends::Refused, one(&format!("A1,{long},120,,"))),
        input(
            "30,000 unknown films",
            Ends::Refused,
            rows(30_000, |at| format!("A{at},plain-fil{at},120,,\n")),
        ),
        input(
            "200 long unknown films",
            Ends::Refused,
            rows(200, |at| format!("A{at},{},120,,\n", "x".repeat(4_000))),
        ),
        input(
            "40,000 rolls of one label",
            Ends::Refused,
            rows(40_000, |_| "A1,plain-film,120,,\n".to_owned()),
        ),
        input("150,000 rows of nothing", Ends::Refused, rows(150_000, |_| "a,b,c\n".to_owned())),
    ]);
    each_ends_in_order(&inputs);
}

#[test]
fn a_list_in_the_format_of_spreadsheets_is_planned() {
    let sound = one("A1,plain-film,120,2026-10-02,100");
    each_ends_in_order(&[
        input("a mark before it", Ends::Accepted, format!("\u{feff}{sound}")),
        input("UTF-16, the low byte first", Ends::Accepted, utf16(&sound, u16::to_le_bytes)),
        input("UTF-16, the high byte first", Ends::Accepted, utf16(&sound, u16::to_be_bytes)),
        input("a day of noughts", Ends::Accepted, one("A1,plain-film,120,0000-00-00,")),
        input("the 30th of February", Ends::Accepted, one("A1,plain-film,120,2026-02-30,")),
        input("a day below nought", Ends::Accepted, one("A1,plain-film,120,-1,")),
        input("a day with a time", Ends::Accepted, one("A1,plain-film,120,2026-10-02T10:00,")),
        input("a day of 20 figures", Ends::Accepted, one("A1,plain-film,120,99999999999999999999,")),
        input("semicolons", Ends::Accepted, sound.replace(',', ";")),
        input("tabs", Ends::Accepted, sound.replace(',', "\t")),
        input("returns for line ends", Ends::Accepted, sound.replace('\n', "\r")),
        input("the last day there is", Ends::Accepted, one("A1,plain-film,120,9999-12-31,")),
        input(
            "paths for labels",
            Ends::Accepted,
            one("/etc/passwd,plain-film,120,,\n../../x,plain-film,120,,"),
        ),
        input("cells past the head", Ends::Accepted, one("A1,plain-film,120,,,,,,,,,,")),
    ]);
}

/// Labels that a spreadsheet would calculate or a browser would run.
const LABELS: [&str; 8] = [
    "=cmd|' /C calc'!A0",
    "+1+1",
    "-2+3",
    "@SUM(A1)",
    "<script>alert(1)</script>",
    "</td><img src=x onerror=alert(1)>",
    "&lt;b&gt;",
    "{{7*7}}",
];

#[test]
fn no_label_becomes_a_formula_or_a_tag() {
    let home = tempfile::TempDir::new().unwrap();
    let list: String = LABELS.iter().map(|label| format!("\"{label}\",plain-film,120,,\n")).collect();
    let folder = input("labels", Ends::Accepted, format!("{HEAD}{list}")).written(home.path());
    let plan = ["plan", "--from", "list.csv", "--at", "20C"];
    let table = Ran::of(&[&plan[..], &["--as", "csv"]].concat(), &folder, CPU_SECONDS_MAX);
    assert!(table.status.success(), "{}", String::from_utf8_lossy(&table.err));
    let mut reader = csv::Reader::from_reader(table.out.as_slice());
    let rows: Vec<csv::StringRecord> = reader.records().map(Result::unwrap).collect();
    assert_eq!(rows.len(), LABELS.len());
    let cells = rows.iter().flat_map(csv::StringRecord::iter);
    let formulas: Vec<&str> =
        cells.filter(|cell| cell.starts_with(['=', '+', '-', '@', '\t', '\r'])).collect();
    assert_eq!(formulas, [""; 0]);
    for label in LABELS {
        assert!(rows.iter().any(|row| row.iter().any(|cell| cell.ends_with(label))), "{label} is lost");
    }
    let page = Ran::of(&[&plan[..], &["-o", "plan.html"]].concat(), &folder, CPU_SECONDS_MAX);
    assert!(page.status.success(), "{}", String::from_utf8_lossy(&page.err));
    let page = std::fs::read_to_string(folder.join("plan.html")).unwrap();
    assert_eq!((page.matches("<script").count(), page.matches("<img").count()), (1, 0));
    assert!(page.contains("&lt;script&gt;alert(1)&lt;/script&gt;") && page.contains("&amp;lt;b&amp;gt;"));
}
